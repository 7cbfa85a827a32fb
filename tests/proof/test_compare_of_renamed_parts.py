"""A comparison of parts whose controls are called otherwise says which is which, or that nothing tells."""

from comparisons import pairs, rows, says, small

SHORTFALLS = ("lost", "changed", "unintended")
TWO = (
    '{{terminals: {{"30": "30", "58": "{2}", "71": "{3}"}}, inside: ['
    "{{control: {{name: {0}, positions: [released, pressed]}}}}, "
    "{{control: {{name: {1}, positions: [released, pressed]}}}}, "
    '{{contact: {{join: ["30", "58"], when: {{{0}: pressed}}}}}}, '
    '{{contact: {{join: ["30", "71"], when: {{{1}: pressed}}}}}}]}}'
)
THREE = (
    '{{terminals: {{"30": "30", "58": "58", "56": "56"}}, inside: ['
    "{{control: {{name: {0}, positions: [rest, {1}, {2}]}}}}, "
    '{{contact: {{join: ["30", "58"], when: {{{0}: [{3}, {4}]}}}}}}, '
    '{{contact: {{join: ["30", "56"], when: {{{0}: {4}}}}}}}]}}'
)


def test_other_names_and_labels_are_a_drop_in_and_told() -> None:
    old = THREE.format("lighting", "side", "head", "side", "head")
    found = small(old, THREE.format("lamps", "I: side", "II: head", "I", "II"))
    assert found.verdict == "drop-in"
    assert says(found, "'lighting' of the old part is 'lamps' on the new one, where side is I, head is II.")


def test_like_switches_under_other_names_are_a_drop_in() -> None:
    old, new = TWO.format("a", "b", "58", "54"), TWO.format("y", "x", "58", "54")
    assert small(old, new).verdict == "drop-in"
    assert says(small(old, new), "'a' of the old part is 'y' on the new one.")


def test_what_nothing_tells_apart_is_no_drop_in_and_told() -> None:
    old, new = TWO.format("a", "b", "58", "58"), TWO.format("y", "x", "58", "58")
    found = small(
        old,
        new.replace('"58": "58"', 'p: "58"')
        .replace('"71": "58"', 'q: "58"')
        .replace('"58"]', "p]")
        .replace('"71"]', "q]"),
    )
    assert rows(found, *SHORTFALLS) == set()
    assert found.verdict == "fits with rewiring"
    assert says(found, "'a' may be 'y' or 'x' of the other: taken to be 'y'. Try each with a meter.")


def test_equal_marks_of_equal_purpose_tell_like_switches_apart() -> None:
    found = small(TWO.format("a", "b", "58", "58"), TWO.format("y", "x", "58", "58"))
    assert found.verdict == "drop-in"
    assert says(found, "'a' of the old part is 'y' on the new one.")


def test_equal_names_that_do_one_anothers_work_are_losses_and_told() -> None:
    old, new = TWO.format("a", "b", "58", "54"), TWO.format("b", "a", "58", "54")
    found = small(old, new)
    assert found.verdict == "fits with losses"
    assert pairs(found) == {"30": "30", "58": "58", "71": "71"}
    assert says(found, "'b' of the new part does what 'a' did on the old one, and 'a' does not: if its file")
