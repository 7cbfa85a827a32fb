"""Flashers and instruments: what works only with the current that it was made for."""

from collections.abc import Iterator

from planner.currents.checks.inspection import Inspection
from planner.model.elements import Flasher, Gauge
from planner.model.strain import Strain

GAUGE_SHARE = 0.1  # of the scale: a driver reads an instrument to about a tenth; common practice, no source
GAUGE_SOURCE = "common practice, no source"


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield flashers with too little or too much to switch, and instruments that show something else."""
    yield from _flashers(seen)
    for key, index in seen.survey.grid.loads.items():
        element = seen.element(index) if key in seen.survey.positions.view.net.loads else None
        if isinstance(element, Gauge) and element.marks:
            yield from _gauge(seen, key, index, element)


def _flashers(seen: Inspection) -> Iterator[Strain]:
    for index, branch in seen.of_kind("flasher"):
        element = seen.element(index)
        assert isinstance(element, Flasher)
        found = [
            (abs(sample.amps[index]), sample)
            for sample in seen.survey.samples
            if index in sample.amps and not seen.is_generating(sample)
        ]
        at_work = [(amps, sample) for amps, sample in found if amps > 1e-3]
        if not at_work:
            continue
        least, most = (pick(at_work, key=lambda each: each[0]) for pick in (min, max))
        source, basis = "rating of the part", "as the part's own data"
        yield Strain(
            "flasher-starved", branch.b, least[0], element.needs_amps, "A", source, basis,
            seen.told(least[1]), seen.loads_in(index, least[1]), duty="signal", is_least=True,
            note=f"{element.kind} flasher",
        )  # fmt: skip
        if element.most_amps:
            yield Strain(
                "flasher-overloaded", branch.b, most[0], element.most_amps, "A", source, basis,
                seen.told(most[1]), seen.loads_in(index, most[1]), duty="signal",
                note=f"{element.kind} flasher",
            )  # fmt: skip


def _gauge(seen: Inspection, key: tuple[str, str], index: int, element: Gauge) -> Iterator[Strain]:
    """Yield the reading that is furthest from what the face says for that state of the sender."""
    worst: Strain | None = None
    for sample in seen.survey.samples:
        amps = abs(sample.amps.get(index, 0.0))
        if amps < 1e-6 or sample.held:
            continue
        for state in set(sample.position.values()) & set(element.marks):
            if not _follows(seen, sample.position, state):
                continue
            shown = min(amps / element.full_scale_amps, 1.5)
            wrong = abs(shown - element.marks[state])
            if worst is None or wrong > worst.value + 1e-9:
                worst = Strain(
                    "gauge", key[0], wrong, GAUGE_SHARE, "of the scale", GAUGE_SOURCE, GAUGE_SOURCE,
                    seen.told(sample), (key,),
                    note=f"{key[1]} shows {shown:.0%} at {state!r}, its face says {element.marks[state]:.0%}",
                )  # fmt: skip
    if worst is not None:
        yield worst


def _follows(seen: Inspection, position: dict[str, str] | object, state: str) -> bool:
    """Whether it is a condition that senders follow which has this value."""
    assert isinstance(position, dict)
    senders = {
        gated.guard[0][0]
        for gated in seen.survey.grid.branches
        if gated.kind == "load" and gated.branch.name[1:] not in seen.survey.positions.view.net.loads
        and gated.guard
    }  # fmt: skip
    return any(position.get(name) == state for name in senders)
