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
from planner.model.delta import Reason
from planner.model.elements import Coil
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, Proposal
from planner.model.part import Part
from planner.model.reach import conductor
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield what restores each cut-off terminal of a coil that the lost behaviour depends on."""
    need = case.need
    if not isinstance(need, Fault) or need.kind not in ("lost", "changed"):
        return
    places = dict.fromkeys([split_address(node)[0] for node in need.path] + list(case.swapped_places()))
    for place in places:
        part, old = case.part(place), case.old_part(place)
        if part is None or old is None:
            continue
        for coil in (e for e in part.inside if isinstance(e, Coil)):
            for at, was in _pairs(case, place, part, old, coil):
                joined = conductor(case.loom, at)
                fact = case.facts.at(was)
                left = [a for a in fact.addresses if a not in joined and case.terminal(a)]
                # An earth wire that is on is an earth; on a new part the coil's terminal may be another's.
                cut_off = left and fact.nature != "earth" and not case.is_swapped(place)
                if case.is_joined_to_an_end(at) or (case.ends_at(at) and not cut_off):
                    continue
                coil_words = f"the coil of {case.loom.place_title(place)}"
                for operations, words in case.restorations(at, was):
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
