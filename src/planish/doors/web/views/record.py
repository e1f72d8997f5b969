"""What the API shows of backups, archives and restoring."""

from typing import Literal

from planish.doors.web.views.fair import OddCell, Shown


class CopyShown(Shown):
    """One backup on a medium: when it was made (ms, and as text), and its newest entry."""

    made: int
    at: str
    n: int


class MediumShown(Shown):
    """A place for copies: free room in MB, whether it is another disk than the fair's, this fair's copies, newest first."""

    place: str
    free_mb: int
    other_disk: bool
    copies: list[CopyShown]


class ArchiveShown(Shown):
    """One archive: its folder, up to which entry it goes, signed or not."""

    folder: str
    n: int
    signed: bool


class WorkShown(Shown):
    """What is being done, or was done last: the step in words, how much is done (0 to 1), what came of it and where."""

    what: Literal["backup", "trial", "archive", "check", "restore"]
    state: Literal["running", "done", "failed"]
    step: str
    share: float
    says: str
    where: str
    problems: list[OddCell]


class RecordShown(Shown):
    """How safe the record is. `last` is the newest good backup, `counts` whether it lies on a second medium; `behind` says
    that something was written since; `late` that this was long ago. `fault` is why the last try failed, `tried_out` when a
    copy was last opened with a sheet. `may_name` tells whether this browser, at the laptop itself, may name any folder."""

    keys: Literal["none", "untried", "ready"]
    key: str
    unlocked: bool
    last: CopyShown | None
    place: str
    there: bool
    counts: bool
    behind: bool
    late: bool
    fault: str
    tried_out: str
    media: list[MediumShown]
    archives: list[ArchiveShown]
    work: WorkShown | None
    may_name: bool


class FairOnMedium(Shown):
    """A fair's backups on a medium, newest first."""

    name: str
    folder: str
    copies: list[CopyShown]


class BroughtBack(Shown):
    """What came back from a copy."""

    says: str
    n: int
