"""What the page on the safe keeping of the record sends, with limits."""

from typing import Annotated

from pydantic import Field, StringConstraints

from planish.doors.web.models import Given, Line, Secret

Place = Annotated[str, StringConstraints(pattern=r"^[^\x00-\x1f\x7f]*$", max_length=400)]
SheetWords = Annotated[str, StringConstraints(min_length=1, max_length=600)]
Made = Annotated[int, Field(ge=0, le=2**53 - 1)]


class BackUpAsked(Given):
    """Back up to this folder on a medium."""

    place: Annotated[Place, Field(min_length=1)]


class TrialAsked(Given):
    """Open the newest copy there with the 34 words of a sheet."""

    place: Annotated[Place, Field(min_length=1)]
    words: SheetWords


class ArchiveAsked(Given):
    """Write an archive on this medium; "" for beside the fair's own folder."""

    place: Place = ""


class ArchiveChecked(Given):
    """Check an archive that is listed."""

    folder: Annotated[Place, Field(min_length=1)]


class RestoreAsked(Given):
    """Open the copy made at `made` (ms) into a new folder, with the 34 words of a sheet."""

    place: Annotated[Place, Field(min_length=1)]
    made: Made
    words: SheetWords


class CopiesAsked(Given):
    """Before there is a fair: what lies on this medium, "" for all that are plugged in. With the code on the terminal."""

    code: Secret
    place: Place = ""


class BringBack(Given):
    """Before there is a fair: open a copy into this desk's folder. `made` 0 is the newest; `head` from a day sheet."""

    code: Secret
    place: Annotated[Place, Field(min_length=1)]
    made: Made = 0
    words: SheetWords
    head: Line = ""
