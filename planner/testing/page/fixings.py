"""Whether a fitted part has its earth where its fixing, or a wire on its case, is to give it one.

Across a load the black tip is on the case itself, and reads nothing of how the case gets to earth. A meter's
small current passes a rusty bolt that the part's own does not: so the case is read under load as well.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from planner.currents.grid import BODY
from planner.messages import tr
from planner.model.loom import split_address
from planner.testing.mistakes.mistake import Change
from planner.testing.page.confirming import solved
from planner.testing.page.exposing import Exposer
from planner.testing.page.ground import Ground
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup
from planner.testing.wired import Wired


def fixing_probes(ground: Ground) -> Iterator[Probe]:
    """Yield ohms from each such case to earth, of the parts that the work fitted."""
    wired = ground.wired
    for place in (name for name in wired.loom.places if name in wired.touched_places):
        part = ground.catalogue.parts[wired.loom.places[place].part]
        for mark, terminal in part.terminals.items():
            address = f"{place}:{mark}"
            words = _earth_words(ground, address) if terminal.by == "mounting" else ""
            if words:
                why = words.format(place=wired.title_of(place))
                yield Probe(address, BODY, "ohms", why=why)


def under_load_probes(ground: Ground, on: Sequence[Setup]) -> Iterator[Probe]:
    """Yield volts from each such case to the battery's earthed post, with a load of its part on."""
    posts = sorted(ground.exposer.posts)
    for case in fixing_probes(ground) if posts else ():
        place = split_address(case.at)[0]
        own = [setup for setup in on if any(load[0] == place for load in setup.loads)]
        for setup in own[:1]:
            why = tr(
                "what the {place} takes comes back by its earth, and loses nothing there",
                place=ground.wired.title_of(place),
            )
            yield Probe(case.at, posts[0], "volts", setup, why=why)
    for address, wire, panel in _new_panels(ground) if posts else ():
        place = split_address(address)[0]
        own = [setup for setup in on if any(load[0] == place for load in setup.loads)]
        for setup in own[:1]:
            why = tr(
                "what the {place} takes comes back by {wire} and by {panel}, which served as no earth before",
                place=ground.wired.title_of(place),
                wire=ground.wired.wire(wire),
                panel=ground.wired.at(panel),
            )
            yield Probe(address, posts[0], "volts", setup, why=why)


def _new_panels(ground: Ground) -> Iterator[tuple[str, str, str]]:
    """Yield terminals of fitted parts that a wire earths on a panel on which nothing was: with both.

    A cab on rubber, a door or a lid may have no way to the battery, and no test of the wire alone shows that.
    """
    wired = ground.wired
    for wire in wired.loom.wires:
        for (one, a), (other, b) in pairwise(enumerate(wire.ends)):
            for (earth, at), far in (((one, a.at), b.at), ((other, b.at), a.at)):
                is_new = (wire.wire, earth) in wired.touched_ends and split_address(at)[0] == BODY
                if is_new and split_address(far)[0] in wired.touched_places and _was_no_earth(wired, at):
                    yield far, wire.wire, at


def _was_no_earth(wired: Wired, address: str) -> bool:
    """Whether nothing was earthed at an address before."""
    return wired.before is not None and address not in wired.before.ends_at


def poor_fixings(exposer: Exposer, wired: Wired, probe: Probe) -> Iterator[tuple[float, str]]:
    """Yield what such a case reads under load with no fixing left, and words for one that is poor."""
    if probe.setup is None or probe.to not in exposer.posts:
        return
    grid = exposer.live.grid.bare
    panels = {
        end
        for branch in grid
        if branch.name[0] == "wire" and probe.at in (branch.a, branch.b)
        for end in (branch.a, branch.b)
        if split_address(end)[0] == BODY and _was_no_earth(wired, end)
    }
    for branch in grid:
        if branch.name[0] == "body" and panels & {branch.a, branch.b}:
            (own,) = solved(exposer, [(probe, exposer.editor.edit(Change(gone=(branch.name,))))])
            panel = next(iter(panels & {branch.a, branch.b}))
            yield (
                own.reading,
                tr(
                    "{panel} has a poor way to the battery: rubber or paint is between it and the rest; lead "
                    "the wire on to sound metal of the frame",
                    panel=wired.at(panel),
                ),
            )
        if branch.name[0] == "mounting" and branch.a == probe.at:
            (own,) = solved(exposer, [(probe, exposer.editor.edit(Change(gone=(branch.name,))))])
            yield (
                own.reading,
                tr(
                    "the earth of the {place} through its fixing is poor: look for paint, rust or rubber "
                    "under it",
                    place=wired.title_of(split_address(probe.at)[0]),
                ),
            )


def _earth_words(ground: Ground, address: str) -> str:
    """What joins a case to the body: its fixing, or a wire; nothing where nothing does."""
    joining = {
        branch.name[0]
        for branch in ground.grid.bare
        for ends in ((branch.a, branch.b), (branch.b, branch.a))
        if ends[0] == address and split_address(ends[1])[0] == BODY
    }
    if "mounting" in joining:
        return tr("the {place} has its earth through its fixing: look for paint, rust or rubber under it")
    if "wire" in joining:
        return tr("the {place} has its earth through the wire on its case")
    return ""
