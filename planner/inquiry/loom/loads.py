"""What each load of a loom does: when, fed from where, through what, and earthed how."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import islice

from planner.circuit.appearance import percent_read
from planner.circuit.fitted import LoadKey
from planner.inquiry.loom.account import LoadLine, Way
from planner.inquiry.loom.found import FoundLoom
from planner.inquiry.loom.ways import way_words
from planner.model.gauges import GAUGE_SHARE, gauges_of
from planner.problems import TooLargeError
from planner.proof.behaviour import Behaviour, is_on
from planner.proof.paths import feeding
from planner.proof.starts import Row

# Ways are looked for in so many positions of a load; a load with more has hardly a way that shows in none.
MOST_SETTINGS = 1024
MOST_READINGS = 6  # an instrument with more shows what others take, as an ammeter does


def load_lines(found: FoundLoom) -> Iterator[LoadLine]:
    """Yield a line for each load that is there for somebody, and for each motor that parks."""
    for key, behaviour in found.view.loads.items():
        works, ways = _works(found, behaviour), _ways(found, key, behaviour)
        works = tuple((look + _on_its_face(found, key, look), when) for look, when in works)
        if any(look.startswith("reads ") and " to " in look for look, _ in works):
            ways = tuple(
                replace(way, when="") for way in ways[:1]
            )  # which is whose current is no way of its own
        yield LoadLine(key[1], key[0], found.titles[key[0]], works, ways)
    for (place, what), behaviour in found.view.cams.items():
        yield LoadLine(what, place, found.titles[place], _works(found, behaviour), ())


def _works(found: FoundLoom, behaviour: Behaviour) -> tuple[tuple[str, str], ...]:
    """How it appears and when, off left out: as a comparison finds it, with everything new."""
    try:
        findings = found.comparison.findings(None, behaviour, lambda *_: True, lambda *_: True)
    except TooLargeError as error:
        return (("not the same always", f"depending on {len(error.variables)} controls, too many to say"),)
    by_look: dict[str, set[Row]] = {}
    for finding in findings:
        by_look.setdefault(finding.after, set()).update(finding.rows)
    shares = [percent for look in by_look if (percent := percent_read(look)) is not None]
    if len(shares) > MOST_READINGS:
        return ((f"reads {min(shares)} to {max(shares)} %", "by what is on behind it"),)
    return tuple(
        (look, found.reporter.when(findings[0].names, rows, findings[0].possible))
        for look, rows in by_look.items()
        if look not in ("off", "turns")
    )


def _on_its_face(found: FoundLoom, key: LoadKey, look: str) -> str:
    """What stands on a gauge's face at the share of its scale that it reads."""
    percent = percent_read(look)
    if percent is None or key[0] not in found.loom.places:
        return ""
    gauges = gauges_of(found.part(key[0]))
    for gauge in gauges:
        marks = {state: abs(mark - percent / 100) for state, mark in gauge.marks.items()}
        nearest = min(marks, key=lambda state: marks[state])
        if gauge.does == key[1] and marks[nearest] <= GAUGE_SHARE / 2:
            return f" ({nearest} on its face)"
    return ""


def _ways(found: FoundLoom, key: LoadKey, behaviour: Behaviour) -> tuple[Way, ...]:
    names = tuple(found.view.label_of(number) for number in behaviour.controls)
    rows: dict[Way, set[Row]] = {}
    for labels, moment in islice(_moments_when_on(found, behaviour), MOST_SETTINGS):
        position = found.view.position(moment)
        way = feeding(found.view.net, key, position)
        if way is not None:
            rows.setdefault(way_words(found, key[0], way, position), set()).add(labels)
    if len(rows) < 2:
        return tuple(rows)
    possible = set().union(*rows.values())
    return tuple(
        Way(
            way.source,
            way.fuses,
            way.through,
            way.wires,
            way.earth,
            found.reporter.when(names, own, possible),
        )
        for way, own in rows.items()
    )


def _moments_when_on(found: FoundLoom, behaviour: Behaviour) -> Iterator[tuple[Row, Mapping[int, int]]]:
    """Yield each setting in which a load is on, and one moment of it from each start."""
    view = found.view
    names = [view.label_of(number) for number in behaviour.controls]
    for values in view.states.settings(behaviour.controls):
        setting = dict(zip(behaviour.controls, values, strict=True))
        labels = tuple(view.net.variables[n].values[v] for n, v in zip(names, values, strict=True))
        for start in behaviour.starts(setting):
            moment = behaviour.moment_when_on(setting, start)
            if moment is not None and is_on(behaviour.appears(setting, start)):
                yield labels, moment
