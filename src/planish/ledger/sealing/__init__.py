"""Sealed words: a signed payload that anyone can check without planish and without a network.

Holds: `cbor` (strict, deterministic), `base45` (RFC 9285), `cose` (COSE_Sign1 with Ed25519, RFC 9052),
`words` (the payload: what was passed, and what to compare), `codes` (text for the QR code, the short check code).
Start with `words.py`. A seal says which words were passed; it never says what the thing is.
"""

from planish.ledger.sealing.codes import check_code, open_code, write_code
from planish.ledger.sealing.words import SealedWords, SealRefused, open_seal, seal

__all__ = ["SealRefused", "SealedWords", "check_code", "open_code", "open_seal", "seal", "write_code"]
