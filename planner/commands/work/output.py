"""Where results go: a sheet or one JSON document, on standard output."""

import json
import sys
from collections.abc import Mapping
from typing import Any

from planner.sheets.render.terminal import show
from planner.sheets.sheet import Sheet


def put_json(document: Mapping[str, Any]) -> None:
    """Print one JSON document."""
    # Escapes keep the document the same whatever the terminal's character set.
    sys.stdout.write(json.dumps(document, indent=2) + "\n")


def put_sheet(sheet: Sheet) -> None:
    """Print a sheet."""
    show(sheet)
