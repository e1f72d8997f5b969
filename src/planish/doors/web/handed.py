"""What a tablet hands in, over the air or as a file: text to the bytes that the ledger takes."""

import base64
import binascii

from planish.doors.web import models_floor as models
from planish.ledger.commitments import Opening
from planish.ledger.store import Offer


def offer_of(given: models.EventGiven | models.SavedEvent, dev: str) -> Offer:
    """Text to bytes. What UTF-8 cannot hold becomes bytes that are no event, and is refused as such."""
    try:
        sig = base64.b64decode(given.sig, validate=True)
    except (ValueError, binascii.Error):
        sig = b""
    openings = tuple(
        Opening(path=one.path, salt=bytes.fromhex(one.salt), value=one.value.encode("utf-8", "surrogatepass"))
        for one in given.open
    )
    return Offer(raw=given.raw.encode("utf-8", "surrogatepass"), openings=openings, sig=sig, by=dev)
