"""A loom's wires as the rows of a wire list, which reads back as the same wires."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from planner.model.loom import End, Loom, Wire
from planner.model.names import variables_of
from planner.model.part import Part
from planner.reading.feed_lines import feed_line

Row = tuple[str | float, ...]
LEG = "; "  # between what differs from leg to leg, or from end to end
_USUAL_SPARE = End.model_fields["spare_metres"].default


def wire_list(loom: Loom, parts: Mapping[str, Part]) -> tuple[tuple[str, ...], tuple[Row, ...]]:
    """The headings and the rows; columns that no wire needs are left out."""
    most = max((len(wire.ends) for wire in loom.wires), default=2)
    tos = ("to", *(f"to {number}" for number in range(2, most)))
    feeds = dict(_feed_lines(loom, parts))
    more = [
        name
        for name in ("fittings", "bundle", "insulation", "note")
        if any(_more(wire)[name] for wire in loom.wires)
    ]
    rows: list[Row] = []
    for wire in loom.wires:
        ends = [_end(end, feeds) for end in wire.ends]
        ends += [""] * (most - len(ends))
        own = _more(wire)
        rows.append(
            (
                wire.wire,
                LEG.join(wire.colour),
                _numbers(wire.mm2),
                _lengths(wire),
                *ends,
                wire.known,
                *(own[name] for name in more),
            )
        )
    return ("wire", "colour", "mm2", "metres", "from", *tos, "known", *more), tuple(rows)


def _feed_lines(loom: Loom, parts: Mapping[str, Part]) -> Iterator[tuple[str, str]]:
    """Feeds that can be said in one line, by their address: a list beside another loom says them too."""
    variables = variables_of(loom, parts)
    for name, feed in loom.feeds.items():
        line = feed_line(feed, variables)
        if line is not None:
            yield name, line


def _end(end: End, feeds: Mapping[str, str]) -> str:
    at = f"{end.at}, {feeds[end.at]}" if end.at in feeds else end.at
    more = [
        *([end.known] if end.known else []),
        *(["covered"] if end.covered else []),
        *([f"spare {_digits(end.spare_metres)} m"] if end.spare_metres != _USUAL_SPARE else []),
    ]
    return f"{at} ({', '.join(more)})" if more else at


def _more(wire: Wire) -> dict[str, str]:
    fittings = [end.fitting or "" for end in wire.ends]
    one = fittings[0] if len(set(fittings)) == 1 else LEG.join(fittings)
    return {
        "fittings": one,
        "bundle": wire.bundle or "",
        "insulation": wire.insulation or "",
        "note": wire.note or "",
    }


def _numbers(values: Sequence[float]) -> str | float:
    """One value as a number for the spreadsheet, if it keeps all its digits; more of them as text."""
    is_kept = len(values) == 1 and f"{values[0]:.15g}" == _digits(values[0]).removesuffix(".0")
    return values[0] if is_kept else LEG.join(map(_digits, values))


def _lengths(wire: Wire) -> str | float:
    """The lengths of the legs; one for several is said to be that of each."""
    is_each = len(wire.metres) == 1 < len(wire.ends) - 1
    return f"{_digits(wire.metres[0])} each" if is_each else _numbers(wire.metres)


def _digits(value: float) -> str:
    """A number with all its digits and no exponent."""
    return format(Decimal(repr(value)), "f")
