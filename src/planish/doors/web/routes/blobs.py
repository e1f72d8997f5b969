"""Pictures from tablets, piece by piece. The desk says how much it has, and the tablet obeys."""

from typing import Annotated

from fastapi import Body, Path, Query, Response

from planish.doors.web.areas import area
from planish.doors.web.failing import answer
from planish.doors.web.tablet import AnyTablet, with_fields
from planish.doors.web.views import floor as views
from planish.errands.hall.blobs import CHUNK, WrongOffset
from planish.errands.opening.refusing import Refused

router = area("tablets")
Digest = Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")]


@router.head("/blobs/{digest}", operation_id="blob_so_far")
def so_far(digest: Digest, on: AnyTablet) -> Response:
    """How much of a picture is here: X-Have bytes, X-Whole 1 when all of it."""
    known = on.floor.blobs.have(digest, on.tablet.dev)
    return Response(headers={"X-Have": str(known.have), "X-Whole": str(int(known.whole))})


@router.put(
    "/blobs/{digest}",
    operation_id="put_blob",
    responses={409: {"model": views.BlobShown}},
    response_model=views.BlobShown,
)
def put(
    digest: Digest,
    on: AnyTablet,
    content: Annotated[bytes, Body(media_type="application/octet-stream")],
    offset: Annotated[int, Query(ge=0, le=2**31)],
    size: Annotated[int, Query(ge=1, le=2**31)],
) -> views.BlobShown | Response:
    """Add a piece at `offset` of a picture of `size` bytes. At another offset the desk says the right one (409)."""
    if len(content) > CHUNK:
        return answer(413, "too_large", "piece", f"It is more than {CHUNK} bytes.", "Send smaller pieces.")
    on.floor.bytes_within_quota(on.tablet.dev, len(content))
    try:
        known = on.floor.blobs.put(digest, on.tablet.dev, offset=offset, size=size, piece=content)
    except WrongOffset as error:
        said = answer(
            409, "blob.offset", "piece", "It does not follow what lies here.", "Go on where the desk says."
        )
        return with_fields(said, have=error.have)
    except Refused as error:
        problem = error.problems[0]
        status = {"blob.digest": 422, "blob.size": 413}.get(problem.code, 400)
        return with_fields(answer(status, problem.code, problem.where, problem.what, problem.remedy), have=0)
    return views.BlobShown(have=known.have, whole=known.whole)
