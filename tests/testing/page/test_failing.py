"""What fails by itself is named by the test that it fails: solved anew, and judged as a person would."""

import pytest
from metered import metered, readings

from planner.testing.page.failing import FAILS
from planner.testing.page.judging import judge


@pytest.mark.parametrize(
    ("job", "told"),
    [
        ("dynamo-to-alternator", {"'charge warning lamp' of the charge lamp, dash has failed"}),
        (
            "door-warning-lamp",
            {
                "the contact D-case of the door switch (made with door open) stays open",
                "the earth of the door switch through its mounting is missing",
            },
        ),
    ],
)
def test_what_fails_by_itself_is_named_where_it_shows_first(job: str, told: set[str]) -> None:
    van = metered(job)
    faults = {mistake.words: mistake for mistake in van.ground.failures(FAILS)}
    edit = van.ground.exposer.editor.edit
    all_read = readings(van, [edit(fault.changes[0]) for fault in faults.values()], van.page.tests)
    dead_first = sorted(van.page.tests, key=lambda test: test.unit != "ohm")
    named = set()
    for words, read in zip(faults, all_read, strict=True):
        taken = [judge(test, str(own), own) for test, own in zip(dead_first, read, strict=True)]
        wrong = [line.words for own in taken if own.verdict == "wrong" for line in own.says[:1]]
        # A lamp that draws nothing leaves a little more volts across itself.
        is_told = any(words in line or "draws too little" in line for line in wrong)
        assert is_told or not wrong, (words, wrong)
        named |= {words for line in wrong if words in line}
    assert told <= named
