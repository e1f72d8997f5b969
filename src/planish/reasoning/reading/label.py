"""One label text to one Reading: dates, measures, letters, words of the trade, and what nobody could read."""

from bisect import bisect_left
from collections.abc import Iterable
from typing import Protocol

from planish.facts.words import WordBook
from planish.reasoning.reading.assembling import Assembly
from planish.reasoning.reading.dates import problems_of, read_dates
from planish.reasoning.reading.dates.pieces import cut_again
from planish.reasoning.reading.hits import Hit, counted_in_figures, scan
from planish.reasoning.reading.lexicon import Lexicon, lexicon_of
from planish.reasoning.reading.measures import read_measures
from planish.reasoning.reading.measures.capacities import worded_capacities
from planish.reasoning.reading.senses import choose_senses
from planish.reasoning.reading.terms.dating.false_dates import (
    after_the_thing,
    only_on_the_model,
    without_buyers,
)
from planish.reasoning.reading.terms.dating.placing import DatePlacer
from planish.reasoning.reading.terms.devices import struck_devices
from planish.reasoning.reading.terms.letters import (
    Inscription,
    find_inscriptions,
    read_letters,
    struck_letters,
)
from planish.reasoning.reading.terms.meaning.coats import settle_coats
from planish.reasoning.reading.terms.meaning.damage import settle_damage
from planish.reasoning.reading.terms.meaning.denying import settle_denials
from planish.reasoning.reading.terms.meaning.doubting import settle_alternatives, settle_doubts
from planish.reasoning.reading.terms.meaning.later import settle_later
from planish.reasoning.reading.terms.meaning.listings import settle_listings
from planish.reasoning.reading.terms.meaning.looks import settle_looks, settle_styles
from planish.reasoning.reading.terms.meaning.loose_parts import settle_loose_part
from planish.reasoning.reading.terms.meaning.parts import settle_parts
from planish.reasoning.reading.terms.meaning.shapes import (
    settle_colours,
    settle_plating,
    settle_shades,
    settle_shapes,
)
from planish.reasoning.reading.terms.meaning.turns import without_turns
from planish.reasoning.reading.terms.meaning.verbs import settle_verbs
from planish.reasoning.reading.terms.meaning.wary import without_adverbs
from planish.reasoning.reading.terms.naming.bronzes import lone_bronze
from planish.reasoning.reading.terms.naming.citations import settle_citations
from planish.reasoning.reading.terms.naming.credits import MakerFound, roles_in_brackets, without_subjects
from planish.reasoning.reading.terms.naming.makers import find_makers, of_the_model
from planish.reasoning.reading.terms.naming.names import (
    Name,
    NameFinder,
    names_a_circle,
    tells_a_life,
)
from planish.reasoning.reading.terms.naming.rulers import without_people, without_shown_rulers
from planish.reasoning.reading.terms.naming.told_places import settle_story_places
from planish.reasoning.reading.terms.phrasing.lent import settle_buyers
from planish.reasoning.reading.terms.phrasing.phrase import Phrase, is_motif
from planish.reasoning.reading.terms.phrasing.phrases import PhraseFinder
from planish.reasoning.reading.terms.phrasing.relations import Relations
from planish.reasoning.reading.terms.prices import price_in
from planish.reasoning.reading.tokens import CAPITAL, LOWER, Tokens, tokenise
from planish.records import Claim, Conventions, Reading

_STORY = ("provenance", "evidence")
_HOUSE = Conventions()
"""What words mean where no rule book says otherwise."""


class Read(Protocol):
    """What reads one label."""

    def __call__(self, text: str, *, words: WordBook, conventions: Conventions | None = None) -> Reading: ...


def read(text: str, *, words: WordBook, conventions: Conventions | None = None) -> Reading:
    """Read one label with the given vocabulary. Never raises on any text."""
    settings = conventions or _HOUSE
    lexicon = lexicon_of(words)
    tokens = tokenise(text)
    dates = without_people(
        read_dates(text, words=words, conventions=settings, cut=cut_again(tokens)), tokens, lexicon
    )
    dates = without_shown_rulers(dates, tokens, lexicon)
    dates = without_buyers(dates, text)
    dates = only_on_the_model(tuple(after_the_thing(claim, lexicon) for claim in dates), text)
    assembly = Assembly(tokens)
    for claim in dates:
        assembly.cover(claim.span.start, claim.span.end)
    _read_figures(assembly, lexicon, dates)
    hits = without_adverbs(scan(tokens, lexicon, assembly.covered), tokens)
    hits = without_turns(hits, tokens, assembly.covered)
    counted_in_figures(tokens, hits, assembly.covered)
    settle_verbs(hits, tokens, assembly.covered)
    choose_senses(hits, tokens, lexicon)
    settle_loose_part(hits, tokens, assembly.covered)
    coats = settle_listings(hits, tokens, lexicon, assembly.covered)
    settle_shapes(hits, tokens, lexicon, assembly.covered)
    settle_plating(hits, tokens)
    _settle(assembly, hits, dates, lexicon)
    for coat in coats:
        assembly.coat_listed(coat, lexicon.listed[tokens.low[coat.last - 1]].value)
    claims = assembly.claims_in_order()
    return Reading(
        text=text,
        claims=claims,
        unread=assembly.unread(lexicon),
        problems=(*problems_of(dates), *assembly.problems),
        conventions=settings,
    )


def _read_figures(assembly: Assembly, lexicon: Lexicon, dates: tuple[Claim, ...]) -> None:
    """Prices and measures; each covers its characters, so that words inside claim nothing more."""
    text = assembly.tokens.text
    taken = [(c.span.start, c.span.end) for c in dates]
    for start, end in price_in(assembly.tokens):
        if all(end <= a or start >= b for a, b in taken):
            assembly.price(start, end)
            taken.append((start, end))
    taken.sort()
    assembly.measured = read_measures(text, lexicon, taken)
    assembly.cover_measures()


def _settle(assembly: Assembly, hits: list[Hit], dates: tuple[Claim, ...], lexicon: Lexicon) -> None:
    tokens = assembly.tokens
    inscriptions, quoted = find_inscriptions(tokens, lexicon)
    lettered = _within(inscriptions)
    if lettered or quoted:
        hits[:] = [hit for hit in hits if hit.first not in lettered and hit.first not in quoted]
    struck_letters(hits, tokens, lexicon, assembly.covered)
    struck_devices(hits, tokens)
    finder = NameFinder(tokens, hits, lexicon, assembly.covered)
    settle_denials(hits, tokens, lexicon, assembly.covered)
    settle_doubts(hits, tokens)
    settle_alternatives(hits, tokens)
    names = finder.find()
    story = _story_tokens(hits, tokens)
    makers = find_makers(finder, names, story | lettered)
    taken = _within(makers)
    makers = without_subjects(makers + roles_in_brackets(finder, taken | lettered), finder)
    inside = _within(names) | taken | _within(makers)
    offices = _within([name for name in names if name.kind == "office"])
    hits[:] = [
        hit
        for hit in hits
        if not (hit.side in _ASKED or hit.first in inside)
        or (hit.first not in offices and not _claims_nothing(hit, inside, story, finder, tokens))
    ]
    settle_colours(hits, tokens)
    settle_shades(hits, tokens)
    settle_buyers(hits, tokens)
    settle_looks(hits, tokens, lexicon.grammar)
    settle_styles(hits, tokens, {claim.span.start for claim in dates if claim.side == "style"})
    settle_later(hits)
    settle_citations(hits, tokens)
    settle_damage(hits, tokens, lexicon)
    when, said_before = _settle_phrases(assembly, hits, inside | lettered | quoted, dates, lexicon)
    struck = {m.last - 1 for m in makers if m.value.role == "sponsor"} | {f.last - 1 for f in inscriptions}
    settle_parts(hits, tokens, lexicon, struck)
    settle_coats(hits, tokens.low)
    for maker in makers:
        before = said_before.get(maker.first)
        liked = before is not None and before.likeness
        part = "" if liked else _part_by(before, by=maker.qualifier == "by") or _one_of_them(maker, tokens)
        if maker.value.copies == "yes" and _shows_a_scene(before):
            part = "decoration"
        assembly.maker(of_the_model(maker) if liked else maker, part=part)
    for found in inscriptions:
        assembly.inscription(found, lexicon)
    hits[:] = [hit for hit in hits if hit.first not in story or hit.entry.value.kind != "registration"]
    settle_story_places(hits, tokens)
    read_letters(hits, tokens, assembly.covered)
    assembly.names(names)
    bronze = lone_bronze(hits, makers, tokens)
    if bronze is not None:
        assembly.named_by_its_metal(bronze)
    assembly.terms(hits, lexicon)
    lettered_spans = [(tokens.start[f.first], tokens.end[f.last - 1]) for f in inscriptions]
    lettered_spans += [(tokens.start[h.first], h.end) for h in hits if h.end > 0]
    silent = inside | lettered | quoted | story
    figures = assembly.measured.found
    figures += list(worded_capacities(tokens, hits, lexicon, silent, assembly.covered, figures))
    placer = DatePlacer(tokens, hits, when, lettered_spans, _spans(story, tokens))
    for claim in dates:
        assembly.add(placer.place(claim))
    assembly.measures()


def _shows_a_scene(before: Phrase | None) -> bool:
    """ "embossed with a tavern scene after Wexcombe": the scene is his, not the thing."""
    last = before.hits[-1] if before is not None and before.hits else None
    return (
        last is not None and last.side == "decoration" and last.entry.value.term.rstrip("s").endswith("scene")
    )


def _one_of_them(maker: MakerFound, tokens: Tokens) -> str:
    """ "two measures, one by James Orme": he made one of them."""
    word = tokens.low[maker.first - 1] if maker.first else ""
    return word if word in ("one", "other") and maker.qualifier == "by" else ""


def _part_by(before: Phrase | None, *, by: bool) -> str:
    """The part that the phrase right before a maker tells of: ", body by", ". The dial by", "lid of 1890 by"."""
    while before is not None and not before.noun and before.relation == "of" and not before.hits:
        before = before.before
    if before is None or before.head is None or (before.head.side == "object" and before.whole):
        return ""
    opens = before.relation == "." and before.headed_first and before.head.side == "part"
    in_case = before.relation == "in"  # "in walnut case by"
    kept = before.head.side == "object" and (in_case or (by and before.relation == "with"))
    return before.part if before.relation == "," or opens or kept else ""


def _settle_phrases(
    assembly: Assembly, hits: list[Hit], named: set[int], dates: tuple[Claim, ...], lexicon: Lexicon
) -> tuple[dict[int, Phrase], dict[int, Phrase]]:
    """Phrases settle what the object is and what every describing word speaks of.

    Returns the phrase of each date, and each phrase by the token right after it.
    """
    tokens = assembly.tokens
    spans = {}
    for claim in dates:
        first = bisect_left(tokens.start, claim.span.start)
        spans[first] = bisect_left(tokens.start, claim.span.end)
    finder = PhraseFinder(tokens, hits, lexicon, covered=assembly.covered, named=named, dates=spans)
    phrases = finder.find()
    Relations(tokens, lexicon.grammar).settle(phrases)
    return finder.when, {phrase.last: phrase for phrase in phrases}


def _within(found: Iterable[Inscription | Name | MakerFound]) -> set[int]:
    """The tokens of all that was found."""
    within: set[int] = set()
    for one in found:
        within.update(range(one.first, one.last))
    return within


_ASKED = frozenset({"place", "state", "decoration", "material", "object", "puff"})
"""Sides that may claim nothing for their surroundings; any other only inside a name."""


def _claims_nothing(hit: Hit, inside: set[int], story: set[int], finder: NameFinder, tokens: Tokens) -> bool:
    """Words inside a name; a capitalised material in a story; a capitalised material beside a capital nobody knows."""
    if hit.first in inside and hit.side != "place":
        return True
    if hit.side == "place" and tokens.low[hit.last : hit.last + 1] == ["import"]:
        return True  # "Dutch import marks" were struck on what was made elsewhere
    if hit.first in inside and hit.side == "place":
        return any(e.side != "place" for e in hit.entries)
    if hit.side == "state":
        return tells_a_life(hit, tokens) or _is_a_partner(hit, tokens)
    told = hit.first in story or _is_somebodys(hit.first - 1, tokens)
    if hit.side == "decoration" and told and is_motif(hit):
        return True  # "Ex Northants farmhouse", "St Mary's church"
    if hit.side == "material" and hit.entry.value.term == "metal" and tokens.low[hit.first - 1] == "the":
        return True  # "so the metal is thin there"
    if hit.side in ("object", "puff") and hit.first in story and _amid_capitals(hit, tokens):
        return True
    if hit.side in ("object", "decoration") and hit.first in story and _is_figure(hit):
        return True
    if hit.side == "object":
        return names_a_circle(hit, tokens)
    if hit.side == "puff":
        return finder.stands_in_title(hit)
    if hit.side != "material":
        return False
    return (hit.first in story and tokens.cap[hit.first] != LOWER) or finder.stands_in_name(hit)


def _is_a_partner(hit: Hit, tokens: Tokens) -> bool:
    """The Rust of "Harrow & Rust"."""
    cap, at = tokens.cap, hit.first
    joined = at > 1 and tokens.low[at - 1] == "&" and cap[at - 2] == CAPITAL
    return joined and cap[at] == CAPITAL and hit.last == at + 1


def _is_somebodys(i: int, tokens: Tokens) -> bool:
    return i >= 0 and tokens.cap[i] == CAPITAL and tokens.low[i].endswith("'s")


def _amid_capitals(hit: Hit, tokens: Tokens) -> bool:
    """ "Bought at the Brass Lantern": a capital beside another one is of a name; a label all in capitals has none."""
    cap = tokens.cap
    beside = (hit.first > 0 and cap[hit.first - 1] == CAPITAL) or cap[hit.last : hit.last + 1] == [CAPITAL]
    return cap[hit.first] == CAPITAL and beside


def _is_figure(hit: Hit) -> bool:
    """A creature or a person of the motifs: a gentleman who once owned the thing is not shown on it."""
    return len(hit.entries) > 1 and {"object", "decoration"} <= {entry.side for entry in hit.entries}


_CIRCA = (["c"], ["ca"], ["circa"])


def _story_tokens(hits: list[Hit], tokens: Tokens) -> set[int]:
    """Tokens from a provenance or evidence word to the end of its sentence."""
    story: set[int] = set()
    end = -1
    for hit in hits:
        if (
            hit.side in _STORY
            and hit.first >= end
            and hit.strength != "denied"
            and not _describes(hit, tokens)
        ):
            end = hit.last
            while end < len(tokens) and tokens.sentence[end] == tokens.sentence[hit.first]:
                if tokens.low[end] == "." and tokens.low[end + 1 : end + 2] in _CIRCA and end > hit.last:
                    break  # "bought for its handles. c.1845": the story ends before the thing's own years
                end += 1
            story.update(range(hit.last, end))
    return story


def _describes(hit: Hit, tokens: Tokens) -> bool:
    """ "A documented leaded bronze mortar": before the thing it only describes it."""
    before = tokens.low[hit.first - 1] if hit.first else "a"
    follows = hit.last < len(tokens) and tokens.low[hit.last].isalpha()
    return (
        hit.side == "evidence" and tokens.low[hit.first].endswith("ed") and before in ("a", "an") and follows
    )


def _spans(indices: set[int], tokens: Tokens) -> list[tuple[int, int]]:
    spans: list[tuple[int, int]] = []
    for i in sorted(indices):
        if spans and tokens.text[spans[-1][1] : tokens.start[i]].strip() in ("", "-"):
            spans[-1] = (spans[-1][0], tokens.end[i])
        else:
            spans.append((tokens.start[i], tokens.end[i]))
    return spans
