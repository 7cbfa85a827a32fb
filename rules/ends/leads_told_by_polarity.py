"""Of two leads without a role, polarity and the pole that is earthed tell which is the live one.

What it looks for
A part that is nothing but a load between two leads that have no roles, marked plus and minus or in any other
way: a loose end that fed or earthed the old part, and the lead that is left bare where the mounting earthed
that.

Why it matters
With the positive pole earthed the live wire belongs on minus. On plus a pump without points stands still or
is destroyed; and a lead that nobody earths leaves it dead whichever way round it is.

Before
A pump with points, earthed by its body, gives way to one with two leads, plus and minus; plus is earthed.

After
The feed on minus, and a new wire from plus to the body.

Limits
Where the data do not say whether the part minds, and its marks are not plus and minus, it asks. Ammeters,
diodes and whatever else is in line have no earthed side and are left to other rules.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import earth_near
from planner.engine.sizing import mm2_for_loads_at
from planner.engine.two_leads import is_told, lead_for, live_and_earthed, two_leads
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.loom import POLE_WORDS, split_address
from planner.model.need import BareTerminal, Emission, LooseEnd, Proposal, Question
from planner.model.wording import address_words, mark_words

RULE = "leads-told-by-polarity"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a lead for an end, an earth for the lead that is left, or the question which is which."""
    need = case.need
    if isinstance(need, BareTerminal):
        yield from _earth(case, need.at)
    mark = lead_for(case, need.was) if isinstance(need, LooseEnd) else None
    if mark is None or not isinstance(need, LooseEnd):
        return
    place, _ = split_address(need.was)
    part, target = case.part(place), f"{place}:{mark}"
    if part is None or not is_told(part):
        yield _question(case, need)
        return
    brings = "is fed" if case.facts.at(need.was).live != "never" else "goes to earth"
    facts = (
        f"{case.old_end(need.wire, need.end)} {brings}, and the leads of the new part have no role",
        f"the {POLE_WORDS[case.loom.supply.earthed]} pole is earthed, so it belongs on "
        f"{address_words(case.loom, target)}",
    )
    why = Reason(RULE, facts, leans_on=((need.wire, need.end),))
    yield Proposal((case.put(need.wire, need.end, target),), why)


def _earth(case: Case, at: str) -> Iterator[Proposal]:
    """Yield an earth wire for the earthed lead, where the other has its wire and no old end is left."""
    place, mark = split_address(at)
    part = case.part(place)
    leads = two_leads(part) if part is not None else None
    if leads is None:
        return
    live, earthed = live_and_earthed(case, leads)
    if mark != earthed or not case.ends_at(f"{place}:{live}") or any(case.freed_ends(place)):
        return
    facts = (
        f"{address_words(case.loom, at)} has no role; it is the lead of the earthed pole, and no wire is "
        "left for it",
    )
    add = draft_wire(case, at, earth_near(case, at), "31", mm2=mm2_for_loads_at(case, at))
    yield Proposal((add,), Reason(RULE, facts))


def _question(case: Case, need: LooseEnd) -> Question:
    """Ask which of two leads is the positive one."""
    place, _ = split_address(need.was)
    part, title = case.part(place), case.loom.place_title(place)
    leads = two_leads(part) if part is not None else None
    assert leads is not None
    one, other = map(mark_words, leads)
    return Question(
        about=tr(
            "which lead of the new {place} is the positive one: {one} or {other}?",
            place=title,
            one=one,
            other=other,
        ),
        where=tr("the new part in the hand: its plate, its leaflet, the colours of its leads"),
        how=tr("look for plus and minus, or a word on polarity; where nothing is found, ask who made it"),
        answers=(
            (tr("it does not matter"), tr("enter polarity: indifferent for the part and plan again")),
            (
                tr("one of them is the positive one"),
                tr("enter polarity: reverses, and name that one first where its load is; plan again"),
            ),
        ),
        why=Reason(RULE, (f"nothing tells {one} from {other}",), leans_on=((need.wire, need.end),)),
    )
