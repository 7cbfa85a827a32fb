"""A sheet: titled sections of paragraphs, tables and lists whose texts each carry a meaning.

A meaning is a hint to the renderer. What it says is always in the words too, since a sheet must be
readable without colour.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from planner.model.picture import Picture

Meaning = Literal["plain", "strong", "good", "bad", "warn", "note", "quiet"]


@dataclass(frozen=True, slots=True)
class Cell:
    """A text with its meaning: a table's cell, or a run of words in a paragraph."""

    text: str
    meaning: Meaning = "plain"


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; every row has a cell for each heading.

    On paper, rows that are strips are printed each on a strip of its own, to be cut out.
    """

    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    are_strips: bool = False


@dataclass(frozen=True, slots=True)
class Item:
    """One entry of a list: a sign or word before it, what it says, and lines that belong to it.

    ``tick`` is the stable id of a box to tick: that of a step, or something that begins with #, which a list
    of what is done takes for a comment. ``write_in`` is what a person writes into a box of its own.
    """

    sign: Cell
    body: Cell
    below: tuple[Cell, ...] = ()
    tick: str = ""
    is_ticked: bool = False
    write_in: str = ""

    @property
    def marked(self) -> Cell:
        """The sign behind its box, drawn with characters."""
        box = ("[x]" if self.is_ticked else "[ ]") if self.tick else ""
        return Cell(" ".join(part for part in (box, self.sign.text) if part), self.sign.meaning)


@dataclass(frozen=True, slots=True)
class Listing:
    """Entries one under the other."""

    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """Lines that keep their blanks, such as a sketch of box characters."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture; where none can be shown, its title and what it shows stand for it."""

    picture: Picture


Block: TypeAlias = Paragraph | Table | Listing | Drawing | Figure


@dataclass(frozen=True, slots=True)
class Section:
    """Blocks under a heading; without a heading they follow what stands above.

    On paper it begins below what stands above, there too if the page takes it whole and else on a new
    page, always on a new page, or together with the section before it on one page if one takes both.
    """

    heading: str
    blocks: tuple[Block, ...]
    begins: Literal["below", "whole", "page", "together"] = "below"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole sheet; ``warning`` stands on every page of paper, for pages are carried one by one."""

    title: str
    sections: tuple[Section, ...]
    warning: str = ""


def say(text: str, meaning: Meaning = "plain") -> Paragraph:
    """A paragraph of one text."""
    return Paragraph((Cell(text, meaning),))


def bullets(texts: tuple[str, ...], meaning: Meaning = "plain") -> Listing:
    """A plain list."""
    return Listing(tuple(Item(Cell("-"), Cell(text, meaning)) for text in texts))


NOTHING = Cell("")


def ticked(texts: Iterable[str], about: str) -> Listing:
    """Boxes to tick that are no steps; ``about`` and their number make their ids."""
    return Listing(tuple(Item(NOTHING, Cell(t), tick=f"#{about} {n}") for n, t in enumerate(texts, 1)))
