"""The electrical view in words: what is strained and where it shows, and the volts of every load."""

from collections.abc import Callable, Container, Iterator, Mapping, Sequence

from planner.circuit.appearance import DIM_FROM, FULL_FROM, GLOWS_FROM, OVER_FROM, judge_load
from planner.circuit.network import LoadInfo
from planner.currents.checks.inspection import Inspection
from planner.currents.grid import BODY
from planner.currents.inspect import by_identity, is_new, same_before
from planner.currents.ohmmeter import cold_ohms
from planner.messages import later, tr
from planner.model.elements import AnyElement, Gauge
from planner.model.loom import Loom
from planner.model.plan import DeadTestLine, LoadLine, RemarkLine, StrainLine
from planner.model.strain import DANGEROUS, Strain, StrainKind
from planner.model.wording import address_words, colour_words

_TEXTS: Mapping[StrainKind, str] = {
    "wire": later("{at} carries {value}; it stands {limit}"),
    "fuse-over-wire": later("the fuse before {at} lets through {value} for good; the wire stands {limit}"),
    "fuse": later("the fuse at {at} carries {value}; it does {limit} for good"),
    "tab": later("{at} passes {value}; such a terminal is tested with {limit}"),
    "contact": later("the contact at {at} switches {value}; it is good for {limit} of that kind of load"),
    "not-charging": later("{at} gives {value} and charges nothing"),
    "opposed": later("{at} takes {value} from a source of more volts; a battery may be charged with {limit}"),
    "generator": later("{at} is asked for {value}; it gives {limit}"),
    "resistor": later("the resistor in the {at} burns {value}; it is made for {limit}"),
    "diode": later("the diode in the {at} carries {value}; it is rated {limit}"),
    "coil": later("the relay at the {at} gets {value}; it needs {limit} to pull in"),
    "drop": later("{at}: {value} lost on the way; {limit} is usual"),
    "earth": later("{at} loses {value} on its way to earth; {limit} is usual"),
    "over-voltage": later("{at} gets {value}; {limit} is the most"),
    "overheats": later("{at} gets {value}; {limit} is the most, and past that it overheats and burns"),
    "under-voltage": later("{at} gets {value}; it needs {limit} to work"),
    "reversed": later("{at} gets {value} the wrong way round"),
    "polarity": later("{at} is made for the other pole earthed and gets {value} the wrong way round"),
    "flasher-starved": later("the flasher at {at} gets {value}; it needs {limit} to beat"),
    "flasher-overloaded": later("the flasher at {at} switches {value}; it is made for {limit}"),
    "gauge": later("{at}: {value} off"),
    "sneak": later("{at} takes {value} by way of another"),
    "drain": later("{value} from {at} with everything at rest"),
    "unsettled": later("no operating point was found around {at}"),
}
_HELD: Mapping[StrainKind, str] = {
    "fuse": later("the fuse at {at} carries {value} of the {limit} printed on it"),
}
_AT_REST = "with everything at rest"
LEAST_DRAIN_AMPS = 1e-4  # less is leakage, not worth a line
_UNMOVED: Mapping[StrainKind, str] = {"polarity": "as soon as the battery is on"}
When = Callable[[Mapping[str, str]], str]  # says a position in words
APPEARANCE = (
    f"Of its rated power a load takes less than {100 * GLOWS_FROM:g} % where it is off, {100 * DIM_FROM:g} % "
    f"where it glows, {100 * FULL_FROM:g} % where it is dim and {100 * OVER_FROM:g} % where it is full; over "
    "is more (common practice, no source)."
)


def strain_lines(
    after: Sequence[Strain], before: Sequence[Strain], loom: Loom, made: Container[str], when: When
) -> Iterator[StrainLine]:
    """Yield every strain of the loom after, the tightest first; ``made`` are wires of the plan's own."""
    old = by_identity(before)
    for strain in after:
        was = same_before(strain, old)
        yield StrainLine(
            kind=strain.kind,
            at=strain.at,
            leg=strain.leg,
            text=strain_words(strain, loom),
            value=strain.value,
            limit=strain.limit,
            unit=strain.unit,
            use=strain.use,
            is_least=strain.is_least,
            is_dangerous=strain.kind in DANGEROUS,
            is_wearing=strain.is_wearing,
            before=was.value if was else None,
            was_over=was is not None and was.is_over,
            is_new=is_new(strain, old, made),
            when=when(strain.position) if strain.position else _UNMOVED.get(strain.kind, _AT_REST),
            position=strain.position,
            loads=strain.loads,
            path=strain.path,
            source=strain.source,
            basis=strain.basis,
            duty=strain.duty,
            gets_hot=strain.gets_hot,
        )


def dead_test_lines(after: Inspection) -> Iterator[DeadTestLine]:
    """Yield what an ohmmeter reads behind each fuse, so that cold lamps are not taken for a short."""
    grid, rest = after.survey.grid, after.rest_sample.position
    for _, branch in after.of_kind("fuse"):
        lamps_in, lamps_out = (cold_ohms(grid, rest, branch.b, BODY, lamps_out=out) for out in (False, True))
        yield DeadTestLine(branch.b, address_words(after.loom, branch.b), lamps_in, lamps_out)


def drain_remarks(after: Sequence[Strain], before: Sequence[Strain], loom: Loom) -> Iterator[RemarkLine]:
    """Yield what is taken at rest since the work, where it is no more than a parked vehicle may take."""
    old = by_identity(before)
    for strain in after:
        was = same_before(strain, old)
        more = strain.value - (was.value if was else 0.0)
        if strain.kind == "drain" and not strain.is_over and more > LEAST_DRAIN_AMPS:
            said = f"{_amount(was.value, 'A')} before" if was else "nothing before"
            taken, _, flat = strain.note.partition(": ")
            text = f"with everything at rest {_where(strain, loom)} gives {taken} ({said})"
            usual = f"up to {_amount(strain.limit, 'A')} is usual"
            yield RemarkLine("; ".join(filter(None, (text, flat, usual))), "drain", strain.source)


def load_lines(after: Inspection, before: Inspection, when: When) -> Iterator[LoadLine]:
    """Yield the volts of every load that somebody looks at, where it is meant to work fully."""
    for key, least in after.survey.least_volts.items():
        info = after.survey.positions.view.net.loads[key]
        if not info.is_task:
            continue
        index = after.survey.grid.loads[key]
        element = after.element(index)
        rated_volts = after.rated_volts(key, element)
        told = least.sample.told
        was = before.survey.least_volts.get(key)
        yield LoadLine(
            at=key[0],
            what=key[1],
            title=after.loom.place_title(key[0]),
            least_volts=least.value,
            least_when=when(told) if told else _AT_REST,
            looks=_looks(info, element, rated_volts, least.value, least.sample.amps[index]),
            before_least_volts=was.value if was else None,
            most_volts=after.survey.most_volts[key].value,
            rated_volts=rated_volts,
        )


def _looks(info: LoadInfo, element: AnyElement, rated_volts: float, volts: float, amps: float) -> str:
    """How a load appears at its real power; a gauge by the current through it."""
    if isinstance(element, Gauge):
        return str(judge_load("gauge", element.full_scale_amps)(amps))
    share = abs(volts * amps) / (rated_volts * info.rated_amps)
    return str(judge_load(info.kind, 1.0)(share**0.5))


def strain_words(strain: Strain, loom: Loom) -> str:
    """A strain in one sentence."""
    words = _HELD.get(strain.kind) if strain.momentary else None
    text = tr(words or _TEXTS[strain.kind]).format(
        at=_where(strain, loom),
        value=_amount(strain.value, strain.unit),
        limit=_amount(strain.limit, strain.unit),
    )
    if strain.gets_hot:
        text = _heat_words(text, strain, loom)
    if strain.momentary:
        text = tr("{strain} while it is held", strain=text)
    return f"{text} ({strain.note})" if strain.note else text


def _heat_words(text: str, strain: Strain, loom: Loom) -> str:
    """How much hotter a terminal gets than in its test, and which of its wires does most of it."""
    said = tr(
        "{strain}: {times:.1f} times that makes {heat:.1f} times the heat",
        strain=text,
        times=strain.use,
        heat=strain.use**2,
    )
    if strain.most_in is None:
        return said
    most = strain.most_in
    colour = colour_words(loom.find(most.wire).leg_colour(most.leg))
    return tr(
        "{said}; the {colour} wire ({wire}) brings {amps} of it",
        said=said,
        colour=colour,
        wire=most.wire,
        amps=_amount(most.amps, "A"),
    )


def _where(strain: Strain, loom: Loom) -> str:
    """What is strained, as people say it."""
    if strain.at in loom.wire_index:
        wire = loom.find(strain.at)
        leg = strain.leg or 0
        one, other = (address_words(loom, end.at) for end in wire.ends[leg : leg + 2])
        return tr(
            "the {colour} wire from {one} to {other} ({mm2:g} mm2)",
            colour=colour_words(wire.leg_colour(leg)),
            one=one,
            other=other,
            mm2=wire.leg_mm2(leg),
        )
    if ":" in strain.at:
        return address_words(loom, strain.at)
    return loom.place_title(strain.at)


def _amount(value: float, unit: str) -> str:
    """A number with its unit, in as many digits as a meter shows."""
    if unit == "A" and value < 1:
        return f"{1000 * value:.0f} mA"
    if unit.startswith("of "):
        return f"{100 * value:.0f} % {unit}"
    return f"{value:.1f} {unit}" if value >= 10 else f"{value:.2f} {unit}"
