"""COSE working group's published example of Sign1 with Ed25519: cose-wg/Examples, eddsa-examples/eddsa-sig-01 (RFC 9052, 9053).

Its key is that of RFC 8032, section 7.1, test 1. The bytes were found in the test suites of several general COSE libraries.
"""

import cbor2
import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cwt import COSE, COSEKey

from planish.ledger.sealing import cose

SECRET = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60"
PUBLIC = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a"
MESSAGE = (
    "d28445a201270300a10442313154546869732069732074686520636f6e74656e742e58407142fd2ff96d56db85bee905a76ba1d0b7321a95"
    "c8c4d3607c5781932b7afb8711497dfa751bf40b58b3bcc32300b1487f3db34085eef013bf08f4a44d6fef0d"
)


def test_what_is_signed_gives_the_published_signature() -> None:
    protected, _, payload, signature = cbor2.loads(bytes.fromhex(MESSAGE)).value
    to_be_signed = cose._to_be_signed(protected, payload)
    assert Ed25519PrivateKey.from_private_bytes(bytes.fromhex(SECRET)).sign(to_be_signed) == signature
    Ed25519PublicKey.from_public_bytes(bytes.fromhex(PUBLIC)).verify(signature, to_be_signed)


def test_a_general_library_reads_the_published_message_and_a_seal_alike() -> None:
    secret = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(SECRET))
    ours = cose.sign(b"This is the content.", secret)
    for message, kid in ((bytes.fromhex(MESSAGE), b"11"), (ours, cose.key_id(secret.public_key()))):
        key = COSEKey.new({1: 1, 2: kid, 3: -8, -1: 6, -2: bytes.fromhex(PUBLIC)})
        assert COSE.new().decode(message, key) == b"This is the content."


def test_another_form_is_refused_though_its_signature_is_good() -> None:
    key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(PUBLIC))
    with pytest.raises(cose.NotSigned):
        cose.verify(bytes.fromhex(MESSAGE), [key])
