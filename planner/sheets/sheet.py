"""A sheet: titled sections of paragraphs, tables and lists whose texts each carry a meaning.

A meaning is a hint to the renderer. What it says is always in the words too, since a sheet must be
readable without colour.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

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
    """Rows under headings; every row has a cell for each heading."""

    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Item:
    """One entry of a list: a sign or word before it, what it says, and lines that belong to it."""

    sign: Cell
    body: Cell
    below: tuple[Cell, ...] = ()


@dataclass(frozen=True, slots=True)
class Listing:
    """Entries one under the other."""

    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """Lines that keep their blanks, such as a sketch of box characters."""

    lines: tuple[str, ...]


Block: TypeAlias = Paragraph | Table | Listing | Drawing


@dataclass(frozen=True, slots=True)
class Section:
    """Blocks under a heading; without a heading they follow what stands above."""

    heading: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole sheet."""

    title: str
    sections: tuple[Section, ...]


def say(text: str, meaning: Meaning = "plain") -> Paragraph:
    """A paragraph of one text."""
    return Paragraph((Cell(text, meaning),))


def bullets(texts: tuple[str, ...], meaning: Meaning = "plain") -> Listing:
    """A plain list."""
    return Listing(tuple(Item(Cell("-"), Cell(text, meaning)) for text in texts))
