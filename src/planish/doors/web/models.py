"""What goes in: every body a client may send, with its limits."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Id = Annotated[str, StringConstraints(pattern=r"^[^\x00-\x1f\x7f/\\:,]{1,80}$", strip_whitespace=True)]
Line = Annotated[str, StringConstraints(pattern=r"^[^\x00-\x1f\x7f]*$", max_length=300)]
Words = Annotated[str, StringConstraints(pattern=r"^[^\x00-\x08\x0b\x0c\x0e-\x1f\x7f]*$", max_length=4000)]
Secret = Annotated[str, StringConstraints(min_length=1, max_length=200)]
NewSecret = Annotated[str, StringConstraints(min_length=8, max_length=200)]
Day = Annotated[str, StringConstraints(pattern=r"^(\d{4}-\d{2}-\d{2})?$")]
GivenRole = Literal[
    "office", "chair", "deputy", "leader", "member", "scribe", "steward", "laboratory", "appeals", "auditor"
]
TwoAct = Literal["confirm", "final", "reopen", "redact", "revoke_seal"]
OutcomeWord = Literal["accept", "relabel", "remove", "refer"]
Amount = Annotated[float, Field(allow_inf_nan=False, ge=-1e12, le=1e12)]
Year = Annotated[int, Field(ge=-5000, le=2100)]


class Given(BaseModel):
    """A body: nothing in it that is not named here."""

    model_config = ConfigDict(extra="forbid")


class SignIn(Given):
    """A person's id and passphrase."""

    person: Id
    passphrase: Secret


class CardSignIn(Given):
    """The code on an exhibitor's card, such as "7:ABCD-EFGH"."""

    code: Annotated[str, StringConstraints(min_length=3, max_length=100)]


class NewPassphrase(Given):
    """One's own passphrase, changed."""

    old: Secret
    new: NewSecret


class SecondPerson(Given):
    """A second person, who signs with the own passphrase at this desk."""

    person: Id
    passphrase: Secret


class SetUp(Given):
    """A fair to be made, and its first chair. `rules` names a rule book on file."""

    code: Secret
    rules: Id
    name: Line = ""
    opens: Day = ""
    chair: Id
    chair_name: Annotated[Line, Field(min_length=1)]
    passphrase: NewSecret


class NewPerson(Given):
    """Somebody who takes part."""

    id: Id
    name: Annotated[Line, Field(min_length=1)]
    roles: list[GivenRole] = Field(default_factory=list, max_length=10)
    disciplines: list[Id] = Field(default_factory=list, max_length=30)


class RoleGiven(Given):
    """One role."""

    role: GivenRole


class ConflictDeclared(Given):
    """A stand or one object that a person may not judge; the reason is read by the chair only."""

    stand: Id | None = None
    object: Id | None = None
    reason: Words = ""


class PanelFormed(Given):
    """Who sits on a panel."""

    members: list[Id] = Field(min_length=1, max_length=50)
    leader: Id | None = None
    disciplines: list[Id] = Field(default_factory=list, max_length=30)


class NewStand(Given):
    """A stand and who has it."""

    id: Id
    number: Line = ""
    zone: Line = ""
    exhibitor: Annotated[Line, Field(min_length=1)]


class ColumnsChosen(Given):
    """Which heading is which field; "ignore" leaves a column out."""

    columns: dict[Line, Line] = Field(max_length=200)


class AnswerGiven(Given):
    """An answer to an open question: "same" or "new" for renumbered stock, else words."""

    said: Annotated[Words, Field(min_length=1)]


class Figure(Given):
    """A figure with its unit and standard uncertainty."""

    amount: Amount
    unit: Line = ""
    uncertainty: Annotated[float, Field(allow_inf_nan=False, ge=0, le=1e12)] = 0.0


More = Line | Amount | dict[Id, Line]


class NewObservation(Given):
    """What was seen or measured; no conclusion. `more` is what the kind asks besides: engraved, diamond, unit, measure …"""

    kind: Id
    part: Line = ""
    values: dict[Id, Figure] = Field(default_factory=dict, max_length=60)
    words: Words = ""
    terms: list[Line] = Field(default_factory=list, max_length=30)
    instrument: Line = ""
    spot: Line = ""
    surface: Line = ""
    about: Line = ""
    original: bool | None = None
    corrects: Line = ""
    more: dict[Id, More] = Field(default_factory=dict, max_length=20)


class AnswerOnClaim(Given):
    """An answer on one claim, named by its key as the object page gives it; `instead` is what one would sign in its place."""

    claim: Annotated[Line, Field(min_length=1)]
    verdict: Literal["holds", "does_not_hold", "cannot_say"]
    reason: Words = ""
    instead: dict[Literal["qualifier", "term", "name", "words"], Line] = Field(default_factory=dict)


class DateSaid(Given):
    """Earliest and latest plausible year, best guess, and how sure (0.5 to 0.95) the truth lies inside."""

    earliest: Year
    latest: Year
    best: Year | None = None
    sure: Annotated[float, Field(ge=0.5, le=0.95)] = 0.8


class ConditionSaid(Given):
    """A condition finding; severity null means not examined."""

    term: Annotated[Line, Field(min_length=1)]
    part: Line = ""
    severity: Literal[0, 1, 2, 3, 4] | None = None
    kind: Line = ""
    reason: Words = ""


class NewBallot(Given):
    """One's own view of one object. An accept without answers is a pass."""

    object: Id
    round: Literal[1, 2] = 1
    outcome: OutcomeWord
    answers: list[AnswerOnClaim] = Field(default_factory=list, max_length=60)
    date: DateSaid | None = None
    conditions: list[ConditionSaid] = Field(default_factory=list, max_length=60)
    reasons: list[Words] = Field(default_factory=list, max_length=20)
    wording: Words = ""
    competent: bool = True
    sets_aside: list[tuple[Line, Words]] = Field(default_factory=list, max_length=20)


class Ballots(Given):
    """Ballots to lock together: one object, or the rest of a shelf."""

    ballots: list[NewBallot] = Field(min_length=1, max_length=200)


class CountAsked(Given):
    """Count one object. The chair's casting vote, where the rule book knows one, chooses between two outcomes."""

    casting: Literal["relabel", "refer"] | None = None


class ConfirmAsked(Given):
    """Confirm what is proposed; a removal needs a second person. `base` is the proposal that was on the screen."""

    second: SecondPerson | None = None
    base: Line | None = None


class FinalAsked(Given):
    """Make a confirmed outcome final; a removal needs a second person."""

    second: SecondPerson | None = None


class ReopenAsked(Given):
    """Look again at something decided: why, and a second person."""

    reason: Annotated[Words, Field(min_length=1)]
    second: SecondPerson


class RedactAsked(Given):
    """Delete the readable text of one entry; the log still verifies."""

    entry: Annotated[int, Field(ge=1)]
    field: Id | None = None
    ground: Literal["retention", "request", "law", "mistake"]
    second: SecondPerson


class TwoAsked(Given):
    """Something that two people do, asked by one; another signed-in person agrees. `reason` speaks of the object.

    `entry`, `field` and `ground` are for redact; the others need none of them.
    """

    what: TwoAct
    object: Id
    reason: Words = ""
    entry: Annotated[int | None, Field(ge=1)] = None
    field: Id | None = None
    ground: Literal["retention", "request", "law", "mistake"] | None = None


class HoldPlaced(Given):
    """A hold: what sort, whether it takes the object off the floor, and why."""

    sort: Literal["stolen_query", "species", "assay", "paper", "incident", "dispute", "other"]
    off_floor: bool = False
    reason: Annotated[Words, Field(min_length=1)]


class HoldLifted(Given):
    """Which hold is lifted, by its name, and why."""

    hold: Id
    reason: Annotated[Words, Field(min_length=1)]


class ReadOnObject(Given):
    """What somebody read on one object, word for word."""

    object: Id
    hangs: Annotated[Words, Field(min_length=1)]


class SealAsked(Given):
    """Labels read on their objects, to be sealed together: all or none."""

    labels: list[ReadOnObject] = Field(min_length=1, max_length=200)


class SealRevoked(Given):
    """A seal withdrawn: why, and a second person."""

    reason: Annotated[Words, Field(min_length=1)]
    second: SecondPerson


class KeysMade(Given):
    """The fair's keys, to be kept under this passphrase."""

    passphrase: Annotated[str, StringConstraints(min_length=12, max_length=200)]


class SheetTried(Given):
    """The 34 words of a recovery sheet; sheet 1 with a new passphrase replaces a lost one."""

    words: Annotated[Words, Field(min_length=1)]
    passphrase: Annotated[str, StringConstraints(max_length=200)] = ""


class KeysUnlocked(Given):
    """The passphrase of the fair's keys."""

    passphrase: Secret


class ReferAsked(Given):
    """Send an object to somebody else."""

    to: Id
    words: Words = ""


class NotFoundSaid(Given):
    """Looked for and not found: absent, locked or not seen."""

    reason: Literal["absent", "locked", "not_seen"] = "absent"


class WordsAsked(Given):
    """Words the panel asks for; left out, the strongest sentence everybody can carry is asked, in the house form if so said."""

    text: Words = ""
    house: bool = False
    reason: Words = ""
    base: Annotated[str, StringConstraints(max_length=80)] = ""


class WordsAgreed(Given):
    """The panel's side takes the exhibitor's signature at the desk; `version` is the one both saw."""

    version: Annotated[int, Field(ge=1, le=10_000)]


class LabelChecked(Given):
    """A steward read the hung label: the words as they hang."""

    hangs: Annotated[Words, Field(min_length=1)]


class LabelCorrected(Given):
    """An exhibitor's own words for a label, before the day; `version` is the one that was on the screen."""

    text: Annotated[Words, Field(min_length=1)]
    price: Line | None = None
    version: Annotated[int, Field(ge=0, le=10_000)] = 0


class AppealLodged(Given):
    """What was overlooked and what is asked, and each piece of new evidence in a line. Pictures are added beside."""

    words: Annotated[Words, Field(min_length=1)]
    evidence: list[Line] = Field(default_factory=list, max_length=20)


class AppealTaken(AppealLodged):
    """An appeal taken in at the office; `late` is why it is heard although its time is over."""

    late: Words = ""


class AppealDecided(Given):
    """What the appeals panel decided, why, and who heard it."""

    outcome: Literal["accept", "relabel", "remove"]
    reasons: list[Words] = Field(min_length=1, max_length=20)
    members: list[Id] = Field(min_length=1, max_length=50)


class AppealView(Given):
    """One's own view on an appeal: the outcome, claims of the label as it hung that do not hold, and reasons."""

    outcome: OutcomeWord
    falls: list[Line] = Field(default_factory=list, max_length=60)
    reasons: list[Words] = Field(default_factory=list, max_length=20)


class UnlikeNoted(Given):
    """Two like cases with unlike outcomes, by their objects."""

    one: Id
    other: Id


class LotDrawn(Given):
    """How many objects to draw by lot, among which, and the seed; left out, the desk takes one and writes it down."""

    size: Annotated[int, Field(ge=1, le=2_000)]
    seed: Annotated[int | None, Field(ge=0, le=2**31)] = None
    among: Literal["passed", "seen"] = "passed"


class LookedAgain(Given):
    """What a second look found, about the object."""

    found: Literal["fault", "nothing"]
    words: Words = ""


class MoveMade(Given):
    """One move: where to, two initials, and a condition line."""

    to: Literal["exhibitor", "stand", "table", "laboratory", "safe_keeping", "sold_store", "left_hall"]
    place: Line = ""
    given_by: Id
    condition: Words = ""


class QuestionAsked(Given):
    """A question about an object, to a role or a person."""

    to: Id
    words: Annotated[Words, Field(min_length=1)]
    paper: bool = False


class PaperFiled(Given):
    """A bill, licence, report or provenance paper, in words; a picture of it is added beside."""

    sort: Literal["bill", "licence", "report", "provenance", "other"]
    words: Annotated[Words, Field(min_length=1)]
