"""Plug-in relays against the reference table of ISO 7588-1 contacts; basis row by row in the table."""

import pytest
from small_looms import Bench, make_parts

from planner.model.elements import Coil

RELAYS = ("relay-changeover-a", "relay-changeover-b")
BASES = {
    "relay-changeover-a": "changeover",
    "relay-changeover-b": "changeover",
    "relay-make-40": "make",
    "relay-make-70": "make",
    "relay-make-diode": "make",
    "relay-twin-output": "twin-output make",
    "relay-break": "break",
}
RATED_VOLTS = 12
LAMP = make_parts(
    'lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 21, does: x}}]}'
)


def limits(table, base: str, role: str) -> tuple[float | None, float]:
    (row,) = (r for r in table("relays") if r["base"] == base and r["role"].startswith(role))
    return float(row["low"]) if row["low"] else None, float(row["high"])


def joined(part, coil_fed: bool, target: str) -> bool:
    """Whether 30 is joined to a terminal, seen as a short through it."""
    wires = ["feed:x > r:30", f"r:{target} > earth", "r:85 > earth"]
    bench = Bench({"relay": part}, {"r": "relay"}, wires, {"x": {"role": "30"}})
    position = {"r/armature": "pulled" if coil_fed else "released"}
    return bool(bench.events(position, "short"))


@pytest.mark.parametrize(("name", "base"), BASES.items())
def test_contacts_are_joined_as_the_table_says(catalogue, table, name, base):
    part = catalogue.parts[name]
    rows = {r["contact"]: r["role"] for r in table("relays") if r["base"] == base}
    assert set(rows) == set(part.terminals)
    for contact, role in rows.items():
        if "joined to 30" in role:
            assert joined(part, True, contact) == ("while the coil is energised" in role), contact
            assert joined(part, False, contact) == ("while the coil is at rest" in role), contact


@pytest.mark.parametrize("name", RELAYS)
def test_coil_moves_the_contact(catalogue, name):
    """Fed at 86 with 85 earthed the armature pulls, so 87 is live and 87a is not."""
    parts = {"relay": catalogue.parts[name], **LAMP}
    wires = [
        "feed:30 > r:30",
        "feed:86 > r:86",
        "r:85 > one:b > two:b > earth",
        "r:87 > one:a",
        "r:87a > two:a",
    ]
    feeds = {"30": {"role": "30"}, "86": {"role": "86", "when": {"key": ["on"]}}}
    bench = Bench(parts, {"r": "relay", "one": "lamp", "two": "lamp"}, wires, feeds, {"key": ["off", "on"]})
    assert (bench.shows("one/x", key="off"), bench.shows("two/x", key="off")) == ("off", "full")
    assert (bench.shows("one/x", key="on"), bench.shows("two/x", key="on")) == ("full", "off")


@pytest.mark.parametrize("name", BASES)
def test_coil_is_within_the_published_figures(catalogue, table, name):
    (coil,) = (e for e in catalogue.parts[name].inside if isinstance(e, Coil))
    assert coil.between == ("86", "85")
    low, high = limits(table, "any mini 12 V", "typical coil resistance")
    assert low is not None and low <= coil.ohms <= high
    low, high = limits(table, "any mini 12 V", "typical coil current")
    assert low is not None and low <= RATED_VOLTS / coil.ohms <= high
    _, percent = limits(table, "any mini", "pull-in voltage")
    assert coil.pulls_in_v <= RATED_VOLTS * percent / 100


def test_30_and_86_change_places_between_the_two_layouts(catalogue, table):
    (row,) = (r for r in table("relays") if r["contact"] == "layout A or B")
    assert "30 and 86 change places" in row["role"]
    a, b = (catalogue.parts[name].terminals for name in RELAYS)
    assert a["30"].face == b["86"].face
    assert a["86"].face == b["30"].face
    for mark in ("85", "87", "87a"):
        assert a[mark].face == b[mark].face
