"""The steps of every shipped job can be followed by a person who stands at the vehicle with the list."""

import pytest
from followed import (
    bare_between_visits,
    ends_without_a_word,
    named_too_early,
    new_ends_without_a_go,
    puts_a_fuse_in,
    with_the_wrong_terminal,
)
from planned import JOBS, catalogue, planned, settled, worked


@pytest.mark.parametrize("job", JOBS)
class TestEveryJob:
    def test_no_step_names_a_thing_that_a_later_one_makes_without_saying_which(self, job: str) -> None:
        assert list(named_too_early(worked(job))) == []

    def test_what_is_made_in_two_goes_says_in_which_step_the_other_end_goes_on(self, job: str) -> None:
        assert list(new_ends_without_a_go(worked(job))) == []

    def test_every_end_has_the_terminal_for_where_it_is_led(self, job: str) -> None:
        before, after = worked(job).names.before, settled(job)[1]
        assert list(with_the_wrong_terminal(before, after, catalogue())) == []

    def test_no_end_hangs_bare_between_two_visits_without_a_word(self, job: str) -> None:
        assert list(bare_between_visits(worked(job))) == []

    def test_every_end_that_comes_off_goes_somewhere_and_of_two_wires_both(self, job: str) -> None:
        assert list(ends_without_a_word(worked(job))) == []

    def test_no_fuse_goes_in_before_first_power(self, job: str) -> None:
        assert list(puts_a_fuse_in(worked(job), catalogue())) == []


def test_the_shipped_jobs_have_what_is_looked_for() -> None:
    """Else nothing would be asked above."""
    texts = [step.text for job in JOBS for step in planned(job).steps]
    for words in ("insulate at once what goes on later", "first power", "this joiner is new", "in line at",
                  "Cut the old terminal off", "the lead N", "now, its other end in step",
                  "with both its wires"):  # fmt: skip
        assert any(words in text for text in texts), words


def test_the_first_end_of_a_new_wire_goes_on_what_is_there_and_not_only_to_the_place() -> None:
    texts = [step.text for step in planned("door-warning-lamp").steps]
    assert any("'anode' on the diode" in text and "put it on the diode, 6 A now" in text for text in texts)
    assert any(
        "from the joiner at D" in text and "put this end into the joiner now" in text for text in texts
    )


@pytest.mark.parametrize(
    ("job", "words"),
    [
        (
            "route-recorder",
            "30 is meant for a feed that is always live, and this one is live with the ignition",
        ),
        ("launch-push-meant-for-the-feed", "30 is meant for a feed, and here it gets none"),
    ],
)
def test_a_terminal_meant_for_a_constant_feed_that_gets_another_says_so_at_its_step(
    job: str, words: str
) -> None:
    (step,) = [step for step in planned(job).steps if words in step.text]
    assert step.do in ("add", "move")


@pytest.mark.parametrize("job", ["route-recorder-ignition", "horn-and-relay", "headlamps-with-two-relays"])
def test_where_the_feed_is_as_it_is_meant_or_a_relay_switches_it_nothing_is_said(job: str) -> None:
    assert not any("is meant for a feed" in step.text for step in planned(job).steps)
