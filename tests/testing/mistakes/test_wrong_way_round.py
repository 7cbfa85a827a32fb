"""Which parts mind that their two wires are on each other's terminal."""

import pytest
from metered import metered


@pytest.mark.parametrize(
    ("job", "part", "minds"),
    [
        ("ballast-coil", "resistor", False),
        ("tractor-to-12-volts", "dropper", False),
        ("led-indicators", "diode", True),
        ("key-switch-and-starter-push", "starter-push", False),
        ("led-indicators", "turn-indicator", False),
    ],
)
def test_only_what_has_a_direction_has_a_wrong_way_round(job: str, part: str, minds: bool) -> None:
    fitted = metered(job).ground.wired.loom.places
    at = {place for place, own in fitted.items() if part in own.part}
    round_ = [m for m in metered(job).slips.values() if m.kind == "wrong way round"]
    assert at
    assert any(tip.partition(":")[0] in at for mistake in round_ for tip in mistake.mend) is minds
