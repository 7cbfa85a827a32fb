"""What shows while an engine runs without a spark is no behaviour; a spark that is kept alive is."""

from running_engine import LAMP, WIRES, bench
from small_looms import prove

SWITCHED_OFF = {"engine": "running", "key/ignition": "off"}


def shown_when_switched_off(coil: str, *without: str) -> set[str]:
    """The loads at fault with key off and engine running, once the charge lamp is connected."""
    one, other = (
        bench(coil, *wires).changed(wires=[w for w in (*WIRES, *wires) if w not in without])
        for wires in ((), (LAMP,))
    )
    proof = prove(one, other)
    return {
        f.what for f in proof.faults for position in f.positions if SWITCHED_OFF.items() <= position.items()
    }


def test_what_a_charge_lamp_lights_until_the_engine_stands_is_left_out_and_told() -> None:
    assert shown_when_switched_off("coil") == set()
    assert prove(bench("coil"), bench("coil", LAMP)).engine_needs_spark


def test_a_spark_that_is_kept_alive_keeps_the_engine_running() -> None:
    assert "ignition spark" in shown_when_switched_off("module")


def test_an_engine_without_a_coil_runs_on() -> None:
    assert "charge lamp" in shown_when_switched_off("coil", "key:15 > coil:SW")
