"""Terminals of a part that was only measured, whose purposes nobody knows, find their partners."""

from small_looms import make_parts

from planner.model.part import Part, Role
from planner.proof.part_compare import PartComparison, compare_parts

ROLES = {
    role: Role(rank=rank, meaning=role, source="invented", basis="invented")
    for role, rank in (("30", 2), ("58", 18), ("56", 16))
}
SWITCH = """
{name}:
  terminals: {{{terminals}}}
  inside:
    - control: {{name: lighting, positions: ['off', side, head]}}
    - contact: {{join: [{feed}, {side}], when: {{lighting: [{side_at}]}}}}
    - contact: {{join: [{feed}, {head}], when: {{lighting: head}}}}
"""
ORIGINAL = SWITCH.format(
    name="original",
    terminals='"1": "30", "2": "58", "3": "56"',
    feed='"1"',
    side='"2"',
    head='"3"',
    side_at="side, head",
)


def measured(names: str, side_at: str = "side, head") -> Part:
    feed, side, head = names
    terminals = ", ".join(f'"{name}": ""' for name in sorted(names))
    text = SWITCH.format(
        name="measured",
        terminals=terminals,
        feed=f'"{feed}"',
        side=f'"{side}"',
        head=f'"{head}"',
        side_at=side_at,
    )
    return make_parts(text)["measured"]


def compared(other: Part) -> PartComparison:
    original = make_parts(ORIGINAL)["original"]
    return compare_parts(original, other.model_copy(update={"family": original.family}), ROLES)


def pairs(comparison: PartComparison) -> dict[str | None, str | None]:
    return {line.original: line.other for line in comparison.terminals}


def test_they_are_paired_by_their_contacts_whatever_stands_beside_them() -> None:
    comparison = compared(measured("BCA"))
    found = pairs(comparison)
    assert found["3"] == "A"
    assert {found["1"], found["2"]} == {"B", "C"}  # feed and side lamps are joined alike, on either part
    assert {line.why for line in comparison.terminals} == {"same contacts"}
    assert {row.outcome for row in comparison.behaviours} == {"kept"}


def test_where_contacts_differ_they_are_paired_by_their_marks() -> None:
    comparison = compared(measured("123", side_at="side"))
    assert pairs(comparison) == {"1": "1", "2": "2", "3": "3"}
    assert {line.why for line in comparison.terminals} == {"same mark, purpose not known"}
    assert [(r.what, r.outcome) for r in comparison.behaviours if r.outcome != "kept"] == [
        ("1 with 2", "lost")
    ]


def test_without_marks_they_are_paired_so_that_least_differs() -> None:
    comparison = compared(measured("CAB", side_at="side"))
    assert pairs(comparison) == {"1": "C", "2": "A", "3": "B"}
    assert comparison.verdict == "fits with losses"
    assert [(r.what, r.outcome) for r in comparison.behaviours if r.outcome != "kept"] == [
        ("1 with 2", "lost")
    ]
