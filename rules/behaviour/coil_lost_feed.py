"""A relay whose coil lost a connection gets it back, as its old terminal had it.

What it looks for
A behaviour lost or changed. A relay coil, on the path that fed the load or in a fitted part, with a bare
terminal or one cut off from what its conductor joined it to before.

Why it matters
Nothing is wrong with the contacts, the lamp or the wire between: the relay just never pulls.

Before
The coil was fed inside the old relay from its feed terminal; the new one brings the coil out on 86, and
nobody put a wire there.

After
86 fed as the old coil was: from a point of the same nature, or from what was on the same conductor.

Limits
A coil fed through another switch is joined to what is left of its old conductor, at the nearest terminal with
room.

Source
DIN 72552 for terminals 85 and 86; the practice itself is common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_restorations
from planner.engine.feeding import is_cut_off, is_joined_to_an_end
from planner.model.delta import Reason
from planner.model.elements import Coil
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, Proposal
from planner.model.part import Part
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield what restores each cut-off terminal of a coil that the lost behaviour depends on."""
    need = case.need
    if not isinstance(need, Fault) or need.kind not in ("lost", "changed"):
        return
    crossed = [split_address(first)[0] for first, *_ in case.crossings(need.path)]
    for place in dict.fromkeys((*crossed, *case.swapped_places())):
        part, old = case.part(place), case.old_part(place)
        if part is None or old is None:
            continue
        for coil in (e for e in part.inside if isinstance(e, Coil)):
            for at, was in _pairs(case, place, part, old, coil):
                # On a new part the coil's terminal may be another's as well; one that is on is left alone.
                left_alone = case.ends_at(at) and (case.is_swapped(place) or not is_cut_off(case, at))
                if left_alone or is_joined_to_an_end(case, at):
                    continue
                coil_words = f"the coil of {case.loom.place_title(place)}"
                for operations, words in draft_restorations(case, at, was):
                    facts = (
                        f"{coil_words} lost what was on {address_words(case.before, was)}",
                        words,
                    )
                    yield Proposal(operations, Reason("coil-lost-feed", facts, case.role_source("86")))


def _pairs(case: Case, place: str, part: Part, old: Part, coil: Coil) -> Iterator[tuple[str, str]]:
    """Yield each wired terminal of a coil with the terminal of the old coil that did the same."""
    before = next((e for e in old.inside if isinstance(e, Coil) and e.name == coil.name), None)
    if before is None:
        return
    now_ends = sorted(coil.between, key=lambda mark: case.rank_in(part, mark))
    old_ends = sorted(before.between, key=lambda mark: case.rank_in(old, mark))
    for mark, was in zip(now_ends, old_ends, strict=True):
        if mark in part.terminals and part.terminals[mark].by == "wire":
            yield f"{place}:{mark}", f"{place}:{was}"
