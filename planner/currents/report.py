"""Strains in words: what is strained, by how much, and where it shows."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from planner.currents.inspect import by_identity, is_new
from planner.model.loom import Loom
from planner.model.plan import StrainLine
from planner.model.strain import DANGEROUS, WEARING, Strain, StrainKind
from planner.model.wording import address_words, colour_words

_TEXTS: Mapping[StrainKind, str] = {
    "wire": "{at} carries {value}; it stands {limit}",
    "fuse-over-wire": "the fuse before {at} lets through {value} for good; the wire stands {limit}",
    "fuse": "the fuse at {at} carries {value}; it does {limit} for good",
    "tab": "{at} passes {value}; such a terminal is tested with {limit}",
    "contact": "the contact at {at} switches {value}; it is good for {limit} of that kind of load",
    "not-charging": "{at} gives {value} and charges nothing",
    "generator": "{at} is asked for {value}; it gives {limit}",
    "resistor": "the resistor in the {at} burns {value}; it is made for {limit}",
    "diode": "the diode in the {at} carries {value}; it is rated {limit}",
    "coil": "the relay at the {at} gets {value}; it needs {limit} to pull in",
    "drop": "{at}: {value} lost on the way; {limit} is usual",
    "earth": "{at} loses {value} on its way to earth; {limit} is usual",
    "over-voltage": "{at} gets {value}; {limit} is the most",
    "under-voltage": "{at} gets {value}; it needs {limit} to work",
    "reversed": "{at} gets {value} the wrong way round",
    "polarity": "{at} is made for the other pole earthed and gets {value} the wrong way round",
    "flasher-starved": "the flasher at {at} gets {value}; it needs {limit} to beat",
    "flasher-overloaded": "the flasher at {at} switches {value}; it is made for {limit}",
    "gauge": "{at}: {value} off",
    "sneak": "{at} takes {value} by way of another",
    "drain": "{value} from {at} with everything at rest",
    "unsettled": "no operating point was found around {at}",
}
_AT_REST = "with everything at rest"
_UNMOVED: Mapping[StrainKind, str] = {"polarity": "as soon as the battery is on"}


def strain_lines(
    after: Sequence[Strain], before: Sequence[Strain], loom: Loom, when: Callable[[Mapping[str, str]], str]
) -> Iterator[StrainLine]:
    """Yield every strain of the loom after, the tightest first.

    ``when`` says a position in words.
    """
    old = by_identity(before)
    for strain in after:
        was = old.get(strain.identity)
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
            is_wearing=strain.kind in WEARING,
            before=was.value if was else None,
            was_over=was is not None and was.is_over,
            is_new=is_new(strain, old),
            when=when(strain.position) if strain.position else _UNMOVED.get(strain.kind, _AT_REST),
            position=strain.position,
            loads=strain.loads,
            path=strain.path,
            source=strain.source,
            basis=strain.basis,
            duty=strain.duty,
        )


def strain_words(strain: Strain, loom: Loom) -> str:
    """A strain in one sentence."""
    text = _TEXTS[strain.kind].format(
        at=_where(strain, loom),
        value=_amount(strain.value, strain.unit),
        limit=_amount(strain.limit, strain.unit),
    )
    if strain.momentary:
        text += " while it is held"
    return f"{text} ({strain.note})" if strain.note else text


def _where(strain: Strain, loom: Loom) -> str:
    """What is strained, as people say it."""
    if strain.at in loom.wire_index:
        wire = loom.find(strain.at)
        leg = strain.leg or 0
        ends = " to ".join(address_words(loom, end.at) for end in wire.ends[leg : leg + 2])
        return f"the {colour_words(wire.leg_colour(leg))} wire from {ends} ({wire.leg_mm2(leg):g} mm2)"
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
