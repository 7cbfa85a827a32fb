"""Why what should swing with a flasher is steady: first whether this flasher beats on what these lamps draw.

A thermal one made for filament lamps stays lit on light-emitting ones, and no wire is wrong then.
"""

from planner.messages import later, tr
from planner.model.elements import Flasher
from planner.testing.page.ground import Ground
from planner.testing.page.probes import Probe

_KINDS = {"thermal": later("thermal"), "electronic": later("electronic")}
_ENOUGH = later(
    "see which the {flasher} is: the one planned with ({kind}, from {least} A on) beats on the {amps} A "
    "here, one that needs more does not"
)
_TOO_LITTLE = later(
    "the {flasher} gets {amps} A here, too little for the one planned with ({kind}, from {least} A on)"
)


def not_beating(ground: Ground, probe: Probe) -> str:
    """What a live reading tells that swings with a flasher and stays steady."""
    assert probe.setup is not None
    beats = [*_beats(ground, probe)]
    if not beats:
        return tr(
            "the flasher beyond this loom does not beat: one made for more lamps, or for filament lamps, may "
            "need more than these draw; else look at its own wires, and at the lamps behind it"
        )
    return tr(
        "the flasher does not beat: {flashers}; else look at its own wires and its lamps",
        flashers=tr(" and ").join(beats),
    )


def _beats(ground: Ground, probe: Probe) -> list[str]:
    """What each flasher at work is reckoned to be, what it gets, and what it needs."""
    assert probe.setup is not None
    stand, found = ground.exposer.leaning[probe.setup, None].stand, []
    for index, branch in ground.seen.of_kind("flasher"):
        element = ground.seen.element(index)
        assert isinstance(element, Flasher)
        amps = abs(stand.point.amps[stand.indices.index(index)]) if index in stand.indices else 0.0
        if amps > 0.0:
            said = _ENOUGH if amps >= element.needs_amps else _TOO_LITTLE
            words = tr(said).format(
                flasher=ground.wired.title_of(branch.name[1]),
                kind=tr(_KINDS[element.kind]),
                least=f"{element.needs_amps:.2g}",
                amps=f"{amps:.2g}",
            )
            found.append(words)
    return found
