"""Reference circuits: each file of ``reference/`` holds a circuit, worked figures, and what must show."""

from pathlib import Path
from typing import Any

import pytest
from small_looms import Bench, make_part, read

REFERENCE = Path(__file__).parent / "reference"
KEYS = {"about", "when", "amps", "watts", "volts", "shows", "shorts", "ties", "chatters"}


def _benches() -> dict[str, tuple[Bench, list[dict[str, Any]]]]:
    found = {}
    for path in sorted(REFERENCE.glob("*.yaml")):
        told = read(path.read_text(encoding="utf-8"))
        assert told["source"] and told["worked"], f"{path.name}: figures need a source and their working"
        parts = {name: make_part(name, short) for name, short in told["parts"].items()}
        fields = {name: told[name] for name in ("feeds", "conditions") if name in told}
        found[path.stem] = (Bench(parts, told["places"], told["wires"], **fields), told["rows"])
    return found


BENCHES = _benches()
ROWS = [
    pytest.param(bench, row, id=f"{name}: {row.get('about', row.get('when', 'at rest'))}")
    for name, (bench, rows) in BENCHES.items()
    for row in rows
]


@pytest.mark.parametrize(("bench", "row"), ROWS)
def test_circuit_shows_the_worked_figures(bench: Bench, row: dict[str, Any]) -> None:
    assert set(row) <= KEYS and set(row) & (KEYS - {"about", "when"}), "a row that checks nothing"
    position = row.get("when", {})
    for load, amps in row.get("amps", {}).items():
        assert abs(bench.amps(load, position)) == pytest.approx(float(amps), rel=1e-3, abs=1e-9), load
    for load, watts in row.get("watts", {}).items():
        assert bench.watts(load, position) == pytest.approx(float(watts), abs=0.006), load
    for node, volts in row.get("volts", {}).items():
        assert bench.volts_at(node, position) == pytest.approx(float(volts), abs=0.0006), node
    shown = {load: bench.shows_in(load, position) for load in row.get("shows", {})}
    assert shown == row.get("shows", {})
    for kind, key in (("short", "shorts"), ("tie", "ties")):
        if key in row:
            assert bench.events(position, kind) == {tuple(labels) for labels in row[key]}
    if "chatters" in row:
        assert _chattering(bench, position) == set(row["chatters"])


def _chattering(bench: Bench, position: dict[str, str]) -> set[str]:
    """The places whose relays find no rest in a position from some start."""
    view = bench.view
    setting = bench.setting({n: v for n, v in position.items() if n not in view.net.hidden})
    return {
        name.rpartition("/")[0]
        for group, own in view.chattering
        if all(setting[c] == v for c, v in zip(group.controls, own, strict=True))
        for name in map(view.label_of, group.hidden)
    }


@pytest.mark.parametrize("name", sorted(BENCHES))
def test_positive_earth_is_the_mirror_image(name: str) -> None:
    """Diodes and LEDs turn round with the poles; every load appears as before, every current is reversed."""
    bench, rows = BENCHES[name]
    mirrored = bench.changed(
        earthed="positive", parts={name: _reversed(part) for name, part in bench.parts.items()}
    )
    for row in rows:
        position = row.get("when", {})
        for load in row.get("shows", {}):
            assert mirrored.shows_in(load, position) == bench.shows_in(load, position)
        for place, does in bench.view.net.loads:
            turned = bench.view.net.loads[place, does].kind in ("led", "diode")
            expected = bench.amps(f"{place}/{does}", position) * (1 if turned else -1)
            assert mirrored.amps(f"{place}/{does}", position) == pytest.approx(expected)
        for kind in ("short", "tie"):
            assert mirrored.events(position, kind) == bench.events(position, kind)


def _reversed(part: Any) -> Any:
    turned = []
    for element in part.inside:
        is_diode = element.element in ("led", "diode")
        turned.append(element.model_copy(update={"between": element.between[::-1]}) if is_diode else element)
    return part.model_copy(update={"inside": tuple(turned)})
