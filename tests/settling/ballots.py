"""Short ways to write ballots in tests. Every person is invented: a, b, c ..."""

from planish.records import Answer, Ballot

VERDICTS = {"S": "holds", "N": "does_not_hold", "C": "cannot_say"}
RUNGS = {"0": "accept", "1": "relabel", "2": "remove", "r": "refer", "-": None}


def vote(person, outcome=None, *, round=1, claims=(), **more):
    """One ballot: `claims` maps a claim to S, N or C."""
    answers = tuple(Answer(claim=c, verdict=VERDICTS[v]) for c, v in dict(claims).items())
    return Ballot(object_id="17-4", person=person, round=round, outcome=outcome, answers=answers, **more)


def rungs(word, *, round=1, **more):
    """One ballot a letter: 0 accept, 1 relabel, 2 remove, r refer."""
    return [vote(p, RUNGS[w], round=round, **more) for p, w in zip("abcdefghijklmnop", word, strict=False)]


def verdicts(word, *, round=1, **more):
    """One ballot a letter on claim "date": S holds, N does not hold, C cannot say."""
    return [
        vote(p, round=round, claims={"date": w}, **more)
        for p, w in zip("abcdefghijklmnop", word, strict=False)
    ]
