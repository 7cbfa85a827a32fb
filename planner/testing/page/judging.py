"""Whether a reading is one of a good circuit, and if not, what it suggests."""

from math import isinf

from planner.model.meter_log import Read, Taken, Verdict
from planner.model.meter_page import MeterTest


def judge(test: MeterTest, typed: str, read: Read) -> Taken:
    """What one reading comes to."""
    if isinstance(read, str):
        return _lamp(test, typed, read)
    is_good = test.low <= read <= test.high
    if isinf(test.expected):
        is_good = read >= test.low
    if is_good:
        return Taken(test, typed, read, "good")
    fitting = tuple(wrong for wrong in test.wrong if wrong.low <= read <= wrong.high)
    nearest = fitting[-1:] if read < test.low else fitting[:1]  # to good, if it is right on a limit
    return Taken(test, typed, read, "wrong", nearest)


def _lamp(test: MeterTest, typed: str, read: Read) -> Taken:
    """A lamp tells no more than what a good circuit does with it."""
    verdict: Verdict = "good" if read == test.lamp else "wrong"
    if test.lamp in ("cannot tell", "none"):
        verdict = "cannot tell"
    return Taken(test, typed, read, verdict, test.wrong if verdict == "wrong" else ())
