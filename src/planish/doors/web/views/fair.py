"""What the API shows of a fair: failures, sessions, rules, people, stands, lists taken in."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

Stage = Literal["draft", "as_hung", "asked", "agreed", "printed", "checked", "sealed", "superseded"]
ExaminationWord = Literal[
    "listed", "presented", "examining", "opinions_in", "proposed", "confirmed", "final", "unlisted", "not_found",
    "not_seen", "paper_due", "referred", "withdrawn", "under_appeal", "reopened",
]  # fmt: skip


class Shown(BaseModel):
    """An answer."""

    model_config = ConfigDict(from_attributes=True)


class ProblemBody(Shown):
    """Where, what, why it matters, the way out; `code` is a stable plain word for programs."""

    code: str
    where: str
    what: str
    why: str = ""
    remedy: str


class Failure(Shown):
    """Every answer that is not a success has this shape."""

    problem: ProblemBody


class OddCell(Shown):
    """Something in a list that should be looked at."""

    code: str
    severity: int
    where: str
    what: str
    why: str = ""
    remedy: str
    found: str = ""


class Me(Shown):
    """Who is signed in. `stand` is set for an exhibitor, `panels` for members."""

    id: str
    name: str
    kind: Literal["person", "card"]
    roles: list[str]
    stand: str = ""
    panels: list[str] = []
    may: list[str]


class SessionNow(Shown):
    """Whether a fair was made, and who is signed in."""

    begun: bool
    set_up_needed: bool
    fair: str = ""
    me: Me | None = None


class RuleBookOnFile(Shown):
    """A rule book that comes with planish."""

    id: str
    fair: str
    version: str
    quorum: int


class SetUpNow(Shown):
    """What set-up needs to know."""

    needed: bool
    fair_begun: bool
    rulebooks: list[RuleBookOnFile]


class FairShown(Shown):
    """The fair."""

    id: str
    name: str
    opens: str = ""
    rulebook: str
    rulebook_version: str
    stands: int
    objects: int
    panels: int
    disciplines: list[str]
    quorum: int


class ClauseShown(Shown):
    """A numbered clause."""

    number: str
    text: str
    check: str
    severity: int


class SettingShown(Shown):
    """A switch or voting rule: its value in words, its clause, or that it is a house default."""

    name: str
    value: str
    clause: str = ""
    house_default: bool = False


class RulesShown(Shown):
    """A rule book."""

    id: str
    fair: str
    version: str
    clauses: list[ClauseShown]
    voting: list[SettingShown]
    switches: list[SettingShown]
    datelines: dict[str, int]
    definitions: dict[str, str]


class RuleDifference(Shown):
    """Where two rule books differ."""

    what: str
    left: str
    right: str


class PersonShown(Shown):
    """Somebody who takes part. `conflicts` are stand ids."""

    id: str
    name: str
    roles: list[str]
    disciplines: list[str]
    conflicts: list[str] = []
    object_conflicts: list[str] = []
    signs_in: bool = False


class PanelShown(Shown):
    """Who sits together."""

    id: str
    members: list[str]
    leader: str
    disciplines: list[str]


class StandShown(Shown):
    """A stand."""

    id: str
    number: str
    zone: str
    exhibitor: str
    objects: int
    has_card: bool = False


class SecretOnce(Shown):
    """A passphrase or card code. It is told this once and kept only as a digest."""

    who: str
    secret: str


class ColumnShown(Shown):
    """What one column was taken for."""

    sheet: str
    letter: str
    heading: str
    field: str
    confidence: float
    why: str


class RowShown(Shown):
    """One object as it would be taken in."""

    number: str
    text: str
    fields: dict[str, str] = {}


class ChangeShown(Shown):
    """One field of one object that reads differently now."""

    object: str
    number: str
    field: str
    before: str
    after: str


class IntakeShown(Shown):
    """A list on its way in. `state` reading → ready → taking → taken, or failed, undone; `done` of `total` rows."""

    id: str
    stand: str
    file: str
    state: Literal["reading", "ready", "taking", "taken", "failed", "undone"]
    done: int
    total: int
    columns: list[ColumnShown] = []
    fields: list[str] = []
    first_rows: list[RowShown] = []
    objects: int = 0
    same: int = 0
    added: int = 0
    changed: list[ChangeShown] = []
    removed: list[RowShown] = []
    questions: list[str] = []
    problems: list[OddCell] = []
    may_undo: bool = False
