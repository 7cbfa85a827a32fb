"""A drawn picture: a circuit, a place or the whole loom, before the work, after it, or both."""

from dataclasses import dataclass
from typing import Literal, get_args

PictureKind = Literal["circuit", "place", "loom"]
PictureWhen = Literal["before", "after", "both"]
Side = Literal["wiring", "other"]  # from which the terminals of a place are seen
SIDES: tuple[Side, ...] = get_args(Side)


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture as a whole SVG document, without scripts, fonts or references to anything outside it."""

    name: str  # stem of a file: place-dash-wiper-switch-after
    kind: PictureKind
    title: str
    when: PictureWhen
    place: str  # of a picture of a place: that under which it stands; else empty
    words: str  # what it shows, for one who cannot see it
    svg: str
    width_mm: float
    height_mm: float
