"""What tablets and the desk's pages about tablets send, with limits."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from planish.doors.web.models import Given, Id, Line

Hex64 = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
Small = Annotated[int, Field(ge=0, le=10_000_000)]
Count = Annotated[int, Field(ge=0, le=2**53 - 1)]


class PairAsked(Given):
    """A tablet gives back the code: its public key ("" without), a random nonce, what it says of itself."""

    code: Annotated[str, StringConstraints(min_length=4, max_length=60)]
    key: Annotated[str, StringConstraints(max_length=400, pattern=r"^[A-Za-z0-9+/=]*$")] = ""
    nonce: Hex64
    name: Line = ""
    again: Annotated[str, StringConstraints(max_length=80)] = ""
    checks: dict[Id, str | int | bool | None] = Field(default_factory=dict, max_length=30)


class PairYes(Given):
    """The steward compared the words; the tablet is for this person."""

    person: Id
    name: Line = ""


class PersonNamed(Given):
    """A person who may set a PIN on a tablet."""

    person: Id


class RevokeAsked(Given):
    """lost, retired: hand in, then wipe. stolen: taken from and told nothing."""

    how: Literal["lost", "stolen", "retired"]


class PinGiven(Given):
    """A person and a PIN of eight digits."""

    person: Id
    pin: Annotated[str, StringConstraints(max_length=20)]


class HelloAsked(Given):
    """A random nonce; the desk signs it."""

    nonce: Hex64


class OpeningGiven(Given):
    """One opening: field, salt (hex), value as JSON text."""

    path: Annotated[str, StringConstraints(min_length=1, max_length=80)]
    salt: Hex64
    value: str


class EventGiven(Given):
    """One event: its bytes as text, the openings, the signature (base64) or ""."""

    raw: str
    open: list[OpeningGiven] = Field(default_factory=list, max_length=40)
    sig: Annotated[str, StringConstraints(max_length=100)] = ""


class PushGiven(Given):
    """What a tablet hands in, from the head of its queue."""

    proto: int
    epoch: Annotated[str, StringConstraints(max_length=100)]
    dev: Annotated[str, StringConstraints(max_length=200)]
    events: list[EventGiven] = Field(max_length=200)
    queue: Small = 0
    oldest_ms: Count = 0
    pictures: Small = 0


class SavedEvent(BaseModel):
    """One event as a tablet saves it; what else it notes beside is for itself."""

    model_config = ConfigDict(extra="ignore")
    seq: Count
    raw: str
    open: list[OpeningGiven] = Field(default_factory=list, max_length=40)
    sig: Annotated[str, StringConstraints(max_length=100)] = ""


class SavedTablet(BaseModel):
    """Which tablet of which fair saved the file."""

    model_config = ConfigDict(extra="ignore")
    dev: Annotated[str, StringConstraints(min_length=1, max_length=80)]
    fair: Annotated[str, StringConstraints(min_length=1, max_length=200)]


class WorkFile(BaseModel):
    """The file that a tablet saves when it cannot reach the desk."""

    model_config = ConfigDict(extra="ignore")
    tablet: SavedTablet
    events: list[SavedEvent] = Field(max_length=100_000)


class HeadGiven(Given):
    """A head a tablet remembers."""

    n: Count
    hash: Hex64


class HeadsGiven(Given):
    """Heads to be compared with the log as it lies now."""

    heads: list[HeadGiven] = Field(max_length=500)


class HandedInSaid(Given):
    """A revoked tablet says that it has nothing left."""

    queue: Small


class CardClosed(Given):
    """What becomes of an event that was recorded and not applied; `release` lets a held one count."""

    how: Literal["beside", "written_again", "stands", "no_matter", "release"]
    note: Line = ""
