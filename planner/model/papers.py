"""The papers that a sheet is printed on."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, get_args

Paper = Literal["a4", "letter"]
PAPERS: tuple[Paper, ...] = get_args(Paper)
# ISO 216 and ANSI/ASME Y14.1 (8.5 by 11 inches), from memory.
MILLIMETRES: Mapping[Paper, tuple[float, float]] = MappingProxyType(
    {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
)
