"""Numbers as people type them, with a point or a comma before the decimals."""

import re
from math import isfinite

from planner.reading.typed_values import NotUnderstood

NUMBER = r"(?:\d{1,9}(?:[.,]\d{1,30})?|[.,]\d{1,30})"
_THOUSANDS = re.compile(r"\d{1,3},\d{3}\Z")


def read_number(text: str) -> float:
    """A number of the form ``NUMBER``; NotUnderstood if a comma may stand before thousands."""
    # 0,500 can only be a half, 1,500 may be one and a half or fifteen hundred.
    if _THOUSANDS.match(text) and not text.startswith("0"):
        whole, _, decimals = text.partition(",")
        raise NotUnderstood(
            f"{text!r} may mean {whole}.{decimals} or {whole}{decimals}", "a point in place of the comma"
        )
    number = float(text.replace(",", "."))
    assert isfinite(number)
    return number
