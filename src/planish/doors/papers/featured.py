"""A case of the report with its year ribbon drawn."""

from planish.doors.papers.ribbon import ribbon, ribbon_words
from planish.doors.papers.ribbon_seen import ribbon_of
from planish.errands.telling import summing
from planish.records.papers import Featured


def featured_for(case: summing.Case) -> Featured:
    """The case as it stands in the report."""
    spec = ribbon_of(case.seen)
    return Featured(
        title=case.title,
        words=case.words,
        outcome=case.outcome,
        sentences=case.sentences,
        ribbon=ribbon(spec) if spec is not None else "",
        ribbon_words=ribbon_words(spec) if spec is not None else "",
        sources=case.sources,
    )
