"""All readings that could be taken at what the work changed, and the order in which a person takes some."""

from collections.abc import Iterator, Mapping, Sequence

from planner.testing.page.choosing import in_order
from planner.testing.page.circuits import at_work, switched_off
from planner.testing.page.cranking import Cranking
from planner.testing.page.ground import Ground
from planner.testing.page.probes import Probe, dead_probes, live_probes
from planner.testing.page.wording import moved_apart


class Candidates:
    """The setups of one work with its loads ``on``, its controls ``off``, and everything at ``rest``."""

    def __init__(self, ground: Ground) -> None:
        self.wired, stands = ground.wired, ground.stands
        self.on = stands.merged(at_work(ground.wired, ground.seen.survey, stands))
        self.off = list(switched_off(ground.wired, self.on, stands))
        named = [setup for setup in (*self.on, *self.off) if not setup.name]
        self.rest = named[0] if named else stands.at({})
        self.setups = [*self.on, *self.off, *([] if named else [self.rest])]

    def probes(self) -> Iterator[Probe]:
        """Yield every reading: dead ones, then the changed terminals in each setup."""
        yield from dead_probes(self.wired)
        for setup in self.setups:
            yield from live_probes(self.wired, setup)


# Water that was hot is not cold a test later: a condition is left for last, and then kept; in switches moved.
_FORWARD, _BACKWARD = 10, 100


def put_in_order(ground: Ground, probes: Sequence[Probe]) -> list[Probe]:
    """Some readings as one takes them: by fewest switches to move, then place after place.

    First the starter is read dead where it must be, with its wire off: nothing else is tried in gear before.
    What turns the engine comes last, and before it what has run out by itself.
    """
    ends = (end.at.partition(":")[0] for wire in ground.wired.loom.wires for end in wire.ends)
    rank = list(dict.fromkeys(ends))
    conditions, cranking = ground.wired.loom.conditions, Cranking(ground)
    turning = {probe.setup for probe in probes if probe.setup and cranking.turns(probe.setup)}

    def stage(probe: Probe) -> int:
        setup = probe.setup
        if setup is None or setup.lead_off:
            return -1
        return 2 if setup in turning else int(setup.is_run_out)

    def apart(one: Probe, other: Probe) -> int:
        """How much trouble it is to go from one to the other: what nobody sets at will only goes one way."""
        before, then = _moved(one), _moved(other)
        slow = [name for name in conditions if before.get(name) != then.get(name)]
        backward = sum(name in before for name in slow)
        return moved_apart(before, then) + len(slow) * _FORWARD + backward * _BACKWARD

    return in_order(probes, rank, stage, apart)


def _moved(probe: Probe) -> Mapping[str, str]:
    return {**probe.setup.moved, **probe.setup.remembered} if probe.setup else {}
