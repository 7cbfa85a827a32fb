"""How each new wire is made: what is cut, and for each of its ends what goes on it, in that order."""

from collections.abc import Iterator, Sequence

from planner.messages import tr
from planner.model.bench_sheet import Label, MadeEnd, MadeWire
from planner.model.wording import colour_words
from planner.workshop.ends.crimps import Crimp, areas_words, crimp_mm2, is_wet
from planner.workshop.ends.names import Names, end_words
from planner.workshop.materials.guarded import is_booted, is_sleeved
from planner.workshop.materials.pieces import Piece


def making(names: Names, made: Sequence[Piece]) -> tuple[MadeWire, ...]:
    """How each new wire is made."""
    return tuple(
        MadeWire(
            piece.name,
            piece.colour,
            piece.mm2,
            names.size(piece.mm2),
            piece.metres,
            piece.cut_metres,
            tuple(_end(names, piece, end) for end in piece.ends),
            piece.from_stock,
            piece.step,
            piece.is_pulled,
        )
        for piece in made
        if not piece.longer_at
    )


def _end(names: Names, piece: Piece, end: Crimp) -> MadeEnd:
    return MadeEnd(
        names.at(end.at),
        _terminal(names, end),
        tuple(_sleeves(names, piece, end)),
        Label(piece.name, colour_words(piece.colour), names.at(end.at)).text,
        end.step,
        end in piece.crimps,
        end.at in piece.goes_with,
    )


def _terminal(names: Names, end: Crimp) -> str:
    """The terminal of an end in words, with its size where it is not that of the wire."""
    said = end_words(end.fitting)
    if len(end.mm2) > 1 and end.is_crimped:
        size = names.size(crimp_mm2(names, end.mm2))
        return tr(
            "{end} for {size}, both wires in it ({wires})", end=said, size=size, wires=areas_words(end.mm2)
        )
    return said


def _sleeves(names: Names, piece: Piece, end: Crimp) -> Iterator[str]:
    """Yield what is slid on an end before it is crimped."""
    if is_sleeved(names, piece) and end is piece.ends[-1]:
        yield tr("sleeving over its whole length")
    if end.at not in piece.goes_with and is_booted(names, end.at, end.fitting):
        yield tr("an insulating boot")
    if end in piece.crimps and is_wet(names, end.at):
        yield tr("a shrink sleeve with glue inside")
    if end in piece.crimps and end.is_sleeved:
        yield tr("an insulating sleeve")
