"""A load that does not do all that it could is joined to an output of a fitted part that has its role.

What it looks for
A behaviour that the job wants and the proof did not find, or one that a new part could bring and that nothing
feeds, and an output of a fitted part whose role is that
of the load's terminal or of another terminal on the load's conductor, not joined to it so far.

Why it matters
Parts are swapped for what they can do. A hazard unit whose second side nobody joined is a hazard unit for one
side.

Before
Turn lamps on the right stay dark with the hazard switch on; R of the new unit is bare.

After
A wire from R to the nearest terminal of the right lamps' conductor.

Limits
Outputs without a wire come first; two ways at most for each load. Wishes that need a part which is not fitted
are not met here.

Source
DIN 72552 for the roles it names; the practice itself is common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_tap, find_nearest_tap
from planner.model.delta import Reason
from planner.model.need import Emission, Fault, Proposal
from planner.model.reach import conductor
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a wire from an output of equal role to the load's conductor."""
    need = case.need
    if not isinstance(need, Fault) or need.kind not in ("missing", "unused"):
        return
    for place, mark in _feeds(case, need):
        joined = conductor(case.loom, f"{place}:{mark}")
        roles = {case.role(address) for address in joined} - {None, "31"}
        outputs = sorted(_outputs(case, roles, joined, place), key=lambda at: bool(case.ends_at(at)))
        for output in outputs[:2]:
            target = find_nearest_tap(case, joined, output)
            if target is None:
                continue
            lacks = "could work, and nothing feeds it" if need.kind == "unused" else "is wanted and missing"
            facts = (
                f"{need.what} of {case.loom.place_title(place)} {lacks}",
                f"{address_words(case.loom, output)} has the role of what would feed it and is not on it",
            )
            why = Reason("wanted-but-missing", facts, case.role_source(case.role(output) or ""))
            yield Proposal(draft_tap(case, output, target, target, case.role(output)), why)


def _feeds(case: Case, need: Fault) -> Iterator[tuple[str, str]]:
    """Yield place and terminal of each end of the wanted load that the mounting does not earth."""
    for place in case.loom.places:
        part = case.part(place)
        if part is None or need.at not in ("", place):
            continue
        for load in (e for e in part.inside if getattr(e, "does", None) == need.what):
            for mark in getattr(load, "between", ()):
                if mark in part.terminals and part.terminals[mark].by == "wire":
                    yield place, mark


def _outputs(case: Case, roles: set[str | None], joined: tuple[str, ...], place: str) -> Iterator[str]:
    for fitted in case.swapped_places():
        part = case.part(fitted)
        for mark, terminal in part.terminals.items() if part and fitted != place else ():
            at = f"{fitted}:{mark}"
            free = case.room(at) > 0 or case.takes_piggyback(at)
            if terminal.role in roles and at not in joined and case.switches(at) and free:
                yield at
