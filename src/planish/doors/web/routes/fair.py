"""The fair, its rules, people, panels, stands."""

from typing import Annotated

from fastapi import Path

from planish.doors.web import models, views
from planish.doors.web.areas import area
from planish.doors.web.failing import NotThere
from planish.doors.web.looking import CHAIR, OFFICE, PANEL, Anyone, Looking, Staff
from planish.errands.intake.listing import stand_order
from planish.errands.opening import rulebooks
from planish.errands.opening.refusing import Refused, refuse
from planish.errands.people import gathering
from planish.errands.people.gathering import not_reserved
from planish.facts.rulebooks import Difference
from planish.ledger.journal import Draft
from planish.ledger.replay import Person, Stand
from planish.records import RuleBook

router = area("fair")
Which = Annotated[str, Path(max_length=80)]


@router.get("/fair", operation_id="fair")
def fair(looking: Anyone) -> views.FairShown:
    """The fair, in short. An exhibitor is told no figure of the fair."""
    state, rules = looking.state, looking.desk.fair.rules
    outside = looking.session.kind == "card"
    named = {name for person in state.people.values() for name in person.disciplines}
    named |= {discipline.id for discipline in looking.desk.fair.kit.disciplines}
    return views.FairShown(
        id=state.id,
        name=state.name,
        opens=str(state.begun.get("opens", "")),
        rulebook=rules.id,
        rulebook_version=rules.version,
        stands=0 if outside else len(state.stands),
        objects=0 if outside else len(state.objects),
        panels=0 if outside else len(state.panels),
        disciplines=sorted(named),
        quorum=rules.voting.quorum,
    )


@router.get("/fair/rules", operation_id="rules")
def rules(looking: Anyone) -> views.RulesShown:
    """The rule book that holds here."""
    return rules_shown(looking.desk.fair.rules)


@router.get("/rulebooks", operation_id="rulebooks")
def on_file(_: Anyone) -> list[views.RuleBookOnFile]:
    """Rule books that come with planish."""
    books = [rulebooks.read(name)[0] for name in rulebooks.on_file()]
    return [
        views.RuleBookOnFile(id=b.id, fair=b.fair, version=b.version, quorum=b.voting.quorum) for b in books
    ]


@router.get("/rulebooks/{name}", operation_id="rulebook")
def rulebook(name: Which, _: Anyone) -> views.RulesShown:
    """One rule book on file."""
    return rules_shown(_on_file(name))


@router.get("/fair/rules/compared/{name}", operation_id="rules_compared")
def rules_compared(name: Which, looking: Anyone) -> list[views.RuleDifference]:
    """Where the rule book that holds here (left) and one on file (right) differ."""
    found: tuple[Difference, ...] = rulebooks.compare(looking.desk.fair.rules, _on_file(name))
    return [views.RuleDifference(what=d.what, left=d.left, right=d.right) for d in found]


def _on_file(name: str) -> RuleBook:
    if name not in rulebooks.on_file():
        raise NotThere("rule book")
    return rulebooks.read(name)[0]


def rules_shown(book: RuleBook) -> views.RulesShown:
    """A rule book, every figure with its clause or said to be a house default."""
    voting = book.voting
    return views.RulesShown(
        id=book.id,
        fair=book.fair,
        version=book.version,
        clauses=[
            views.ClauseShown(number=c.number, text=c.text, check=c.check, severity=c.severity)
            for c in book.clauses
        ],
        voting=[
            views.SettingShown(
                name=name,
                value=str(getattr(voting, name)),
                clause=voting.clauses.get(name, ""),
                house_default=name not in voting.clauses,
            )
            for name in type(voting).__dataclass_fields__
            if name != "clauses"
        ],
        switches=[views.SettingShown(name=name, value=str(value)) for name, value in book.switches.items()],
        datelines=dict(book.datelines),
        definitions={name: str(words) for name, words in book.definitions.items()},
    )


# -- people -------------------------------------------------------------------------------------------------------------


@router.get("/people", operation_id="people")
def people(looking: Staff) -> list[views.PersonShown]:
    """Who takes part. Conflicts are shown to chair and office only."""
    if not looking.sees("stand_list"):
        looking.must_be(OFFICE)
    able = looking.desk.accounts.known("person") if looking.has(OFFICE) else frozenset()
    return [_person(looking, one, able) for one in looking.state.people.values()]


def _person(looking: Looking, one: Person, able: frozenset[str]) -> views.PersonShown:
    full = looking.has(OFFICE) or one.id == looking.who
    return views.PersonShown(
        id=one.id,
        name=one.name,
        roles=sorted(one.roles),
        disciplines=list(one.disciplines),
        conflicts=sorted(one.conflicts, key=stand_order) if full else [],
        object_conflicts=sorted(one.object_conflicts) if full else [],
        signs_in=one.id in able,
    )


@router.post("/people", operation_id="add_person", status_code=201)
def add_person(given: models.NewPerson, looking: Staff) -> views.PersonShown:
    """Add somebody, with roles. Only a chair gives the roles chair, deputy and auditor."""
    looking.must_be(OFFICE)
    for role in given.roles:
        _may_give(looking, role)
    not_reserved(given.id)
    fair = looking.desk.fair
    with fair.lock:
        if given.id in fair.state.people:
            raise _taken("person", given.id)
        drafts = [
            Draft(
                kind="person.added",
                sub=given.id,
                who=looking.who,
                body={"name": given.name, "disciplines": given.disciplines},
            )
        ]
        drafts += [
            Draft(kind="role.given", sub=given.id, who=looking.who, body={"role": role})
            for role in given.roles
        ]
        fair.record(drafts)
    return _person(looking, fair.state.people[given.id], frozenset())


def _taken(what: str, which: str) -> Refused:
    return refuse(
        f"{what} {which}", "There is one with this id.", "Take another id.", code=f"{what}.taken", kind="rule"
    )


def _may_give(looking: Looking, role: str) -> None:
    if role in ("chair", "deputy", "auditor", "appeals"):
        looking.must_be(CHAIR)


def _known(looking: Looking, person: str) -> Person:
    known = looking.state.people.get(person)
    if known is None:
        raise NotThere("person")
    return known


@router.post("/people/{person}/roles", operation_id="give_role", status_code=201)
def give_role(person: Which, given: models.RoleGiven, looking: Staff) -> views.PersonShown:
    """Give a role."""
    looking.must_be(OFFICE)
    _may_give(looking, given.role)
    _known(looking, person)
    looking.desk.fair.record(
        [Draft(kind="role.given", sub=person, who=looking.who, body={"role": given.role})]
    )
    return _person(looking, _known(looking, person), frozenset())


@router.delete("/people/{person}/roles/{role}", operation_id="withdraw_role")
def withdraw_role(person: Which, role: models.GivenRole, looking: Staff) -> views.PersonShown:
    """Withdraw a role; every session of this person ends at once. The last chair stays."""
    looking.must_be(OFFICE)
    _may_give(looking, role)
    known = _known(looking, person)
    fair = looking.desk.fair
    with fair.lock:
        chairs = [one for one in fair.state.people.values() if "chair" in one.roles]
        if role == "chair" and "chair" in known.roles and len(chairs) == 1:
            raise refuse(
                f"person {person}",
                "This is the only chair.",
                "Give the role to another first.",
                kind="rule",
                code="chair.last",
            )
        if role in known.roles:
            fair.record([Draft(kind="role.withdrawn", sub=person, who=looking.who, body={"role": role})])
    looking.desk.accounts.end_all(person)
    return _person(looking, _known(looking, person), frozenset())


@router.post("/people/{person}/conflicts", operation_id="declare_conflict", status_code=201)
def declare_conflict(person: Which, given: models.ConflictDeclared, looking: Staff) -> views.PersonShown:
    """Declare a conflict: everybody for themselves, the office for anybody."""
    if person != looking.who:
        looking.must_be(OFFICE)
    _known(looking, person)
    body = {name: value for name, value in given.model_dump().items() if value}
    if not (given.stand or given.object):
        raise refuse(
            "conflict", "It names neither a stand nor an object.", "Name one.", code="conflict.empty"
        )
    if given.stand and given.stand not in looking.state.stands:
        raise NotThere("stand")
    if given.object and given.object not in looking.state.objects:
        raise NotThere("object")
    looking.desk.fair.record([Draft(kind="conflict.declared", sub=person, who=looking.who, body=body)])
    return _person(looking, _known(looking, person), frozenset())


@router.post("/people/{person}/passphrase", operation_id="new_passphrase", status_code=201)
def new_passphrase(person: Which, looking: Staff) -> views.SecretOnce:
    """Make a passphrase for somebody; it is told once. Only a chair makes one for a chair, deputy or auditor."""
    looking.must_be(OFFICE)
    for role in _known(looking, person).roles:
        _may_give(looking, role)
    return views.SecretOnce(who=person, secret=looking.desk.accounts.new_passphrase(person))


@router.get("/panels", operation_id="panels")
def panels(looking: Staff) -> list[views.PanelShown]:
    """Who sits together."""
    looking.must_be(PANEL | OFFICE | {"scribe", "steward"})
    return [
        views.PanelShown(id=p.id, members=list(p.members), leader=p.leader, disciplines=list(p.disciplines))
        for p in looking.state.panels.values()
    ]


@router.put("/panels/{panel}", operation_id="form_panel")
def form_panel(panel: models.Id, given: models.PanelFormed, looking: Staff) -> views.PanelShown:
    """Form a panel, or form it anew."""
    looking.must_be(OFFICE)
    strange = [one for one in (*given.members, given.leader) if one and one not in looking.state.people]
    if strange:
        raise refuse(
            f"panel {panel}",
            f"{strange[0]} takes no part in this fair.",
            "Add the person first.",
            code="panel.stranger",
        )
    table = {"id": panel, "members": given.members, "disciplines": given.disciplines}
    if given.leader:
        table["leader"] = given.leader
    looking.desk.fair.record([gathering.panel_draft(table, who=looking.who)])
    formed = looking.state.panels[panel]
    return views.PanelShown(
        id=panel, members=list(formed.members), leader=formed.leader, disciplines=list(formed.disciplines)
    )


# -- stands -------------------------------------------------------------------------------------------------------------


@router.get("/stands", operation_id="stands")
def stands(looking: Staff) -> list[views.StandShown]:
    """Stands in order, with how many objects each lists."""
    if not looking.sees("stand_list"):
        looking.must_be(OFFICE)
    counts: dict[str, int] = {}
    for cell in looking.desk.fair.board.cells() if looking.state else ():
        counts[cell.stand] = (
            counts.get(cell.stand, 0) + cell.unseen + cell.in_hand + cell.questions + cell.done
        )
    cards = looking.desk.accounts.known("card") if looking.has(OFFICE) else frozenset()
    order = sorted(looking.state.stands.values(), key=lambda one: stand_order(one.id))
    return [_stand(one, counts.get(one.id, 0), one.id in cards) for one in order]


def _stand(one: Stand, objects: int, card: bool) -> views.StandShown:
    return views.StandShown(
        id=one.id, number=one.number, zone=one.zone, exhibitor=one.exhibitor, objects=objects, has_card=card
    )


@router.post("/stands", operation_id="add_stand", status_code=201)
def add_stand(given: models.NewStand, looking: Staff) -> views.StandShown:
    """Add a stand."""
    looking.must_be(OFFICE)
    fair = looking.desk.fair
    body = {"number": given.number or given.id, "exhibitor": given.exhibitor}
    if given.zone:
        body["zone"] = given.zone
    with fair.lock:
        if given.id in fair.state.stands:
            raise _taken("stand", given.id)
        fair.record([Draft(kind="stand.added", sub=given.id, who=looking.who, body=body)])
    return _stand(fair.state.stands[given.id], 0, False)


@router.post("/stands/{stand}/card", operation_id="new_card", status_code=201)
def new_card(stand: Which, looking: Staff) -> views.SecretOnce:
    """Make the card code of a stand; it is told once, and the card before it opens nothing any more."""
    looking.must_be(OFFICE)
    if stand not in looking.state.stands:
        raise NotThere("stand")
    return views.SecretOnce(who=stand, secret=looking.desk.accounts.new_card(stand))
