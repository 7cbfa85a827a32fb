"""The sheet of a plan: what is said, in which order, and that nothing hangs on colour, width or the clock."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hand_made import CARD, PLAN, STEPS, assert_golden, behaviour, step, text_of

from planner.cautions import CAUTIONS
from planner.model.plan import RemarkLine
from planner.sheets.build.plan import plan_sheet
from planner.sheets.build.plan_work import concerns, minutes_words

PLAIN = replace(
    PLAN,
    is_demonstration=False,
    verdict="no-loss",
    road="yes",
    cards=(),
    steps=(),
    behaviours=(),
    hazards=(),
    unsettled=(),
    questions=(),
    remarks=(),
    not_seen=(),
    alternatives=(),
    is_proven_cheapest=True,
)


@pytest.mark.parametrize("do", ["hold", "move", "re-end", "cover", "connect"])
def test_the_battery_comes_off_before_the_first_step_whatever_that_is(do: str) -> None:
    said: set[int] = set()
    first, second = (concerns(step(n, do, "a step"), said) for n in (1, 2))
    assert first[0] == 1 and CAUTIONS[0].startswith("Earthed pole of the battery off first")
    assert second == ()  # each is said once


def headings(text: str) -> list[str]:
    lines = text.splitlines()
    return [line for line, below in pairwise(lines) if below and set(below) == {"-"}]


def flat(text: str) -> str:
    return " ".join(text.split())


def test_the_sheet_is_as_the_golden_one() -> None:
    assert_golden(text_of(plan_sheet(PLAN)), "plan")


def test_the_sheet_with_reasons_is_as_the_golden_one() -> None:
    assert_golden(text_of(plan_sheet(PLAN, with_reasons=True)), "plan-with-reasons")


def test_sections_stand_in_the_order_of_the_bench() -> None:
    assert headings(text_of(plan_sheet(PLAN))) == [
        "Part: pump switch, dash",
        "Part: pump lamp, dash",
        "Part: relay, dash",
        "Wires to make",
        "What stops working, what changes, what is gained",
        "What to measure: questions to settle",
        "Still to settle",
        "May it be driven like this?",
        "Work list",
        "Alternatives, side by side",
        "Remarks",
        "What this plan does not see",
        "Amps and volts",
        "Cautions",
    ]


def test_a_plan_that_changes_nothing_says_so_and_leaves_empty_sections_out() -> None:
    text = text_of(plan_sheet(PLAIN))
    assert headings(text) == [
        "Wires to make",
        "What stops working, what changes, what is gained",
        "May it be driven like this?",
        "Work list",
        "Amps and volts",
        "Cautions",
    ]
    assert "None: the wires that are there are enough." in text
    assert "Nothing: everything works as before." in text
    assert "Nothing to do." in text
    assert "No cheaper plan does as well: proven." in flat(text)


@pytest.mark.parametrize(
    ("verdict", "words"),
    [
        ("no-loss", "Verdict: NO LOSS - "),
        ("losses", "Verdict: LOSSES - "),
        ("measure", "Verdict: MEASURE FIRST - "),
        ("unsettled", "Verdict: UNSETTLED - "),
        ("unsafe", "Verdict: UNSAFE - "),
    ],
)
def test_the_verdict_is_one_line_and_comes_first(verdict: str, words: str) -> None:
    lines = text_of(plan_sheet(replace(PLAN, verdict=verdict))).splitlines()
    assert lines[3].startswith(words)
    assert lines[3].endswith(".")
    assert lines[4] == ""


def test_an_accepted_loss_is_not_called_as_before() -> None:
    accepted = replace(PLAIN, behaviours=(behaviour("lamp", "dash", "lost", accepted=True),))
    assert "Verdict: NO LOSS - everything works as before" in text_of(plan_sheet(PLAIN))
    text = text_of(plan_sheet(accepted))
    assert "Verdict: NO LOSS - nothing is lost but what the job accepts" in text
    assert "the job accepts this" in text


def test_what_is_off_as_the_job_wants_it_is_told_as_wished() -> None:
    wished = behaviour("pump", "bay", "lost", accepted=True, as_wished=True)
    text = flat(text_of(plan_sheet(replace(PLAIN, behaviours=(wished,)))))
    assert "Verdict: NO LOSS - nothing is off but what the job wants off; nothing is open." in text
    assert "AS WISHED pump" in text and "LOST" not in text


def test_what_is_gone_or_guards_less_stands_in_the_headline_and_not_under_no_loss() -> None:
    gone = RemarkLine("it comes out", "job", "as the job asks", but="nothing tells what it told")
    text = flat(text_of(plan_sheet(replace(PLAIN, remarks=(gone, gone)))))
    assert "Verdict: MIND THIS - what worked works as before; but nothing tells what it told." in text
    assert "NO LOSS" not in text and "Nothing: everything works as before" not in text
    text = flat(text_of(plan_sheet(replace(PLAIN, verdict="losses", remarks=(gone,)))))
    assert "Verdict: LOSSES - " in text


def test_a_plan_that_changes_something_without_loss_is_not_called_as_before() -> None:
    changed = replace(PLAIN, behaviours=(behaviour("beam", "relay", "changed", is_memory=True),))
    text = text_of(plan_sheet(changed))
    assert "Verdict: NO LOSS - nothing that worked is lost, and nothing is left open." in text


def test_a_step_that_no_longer_steps_is_told_as_that() -> None:
    step = behaviour(
        "beam",
        "relay",
        "changed",
        before="steps on",
        after="stays as it was",
        when="with the lever pulled",
        is_memory=True,
    )
    text = text_of(plan_sheet(replace(PLAIN, behaviours=(step,))))
    assert "it stepped on, now it stays as it was; with the lever pulled" in text


def test_an_open_question_stands_over_the_changes_and_the_work_list() -> None:
    text = text_of(plan_sheet(replace(PLAIN, questions=PLAN.questions, steps=STEPS)))
    assert "Nothing, if what is assumed is true: everything then works as before." in text
    work = text.split("Work list\n")[1]
    assert work.index("Take the readings above first") < work.index("1. ")


def test_what_never_runs_is_not_said_to_do_so_always() -> None:
    missing = behaviour("wipe fast", "motor", "missing", after="it never runs", when="always")
    text = text_of(plan_sheet(replace(PLAIN, behaviours=(missing,))))
    assert "it never runs" in text
    assert "always" not in text


def test_a_gauge_reads() -> None:
    gauge = behaviour("fuel gauge", "cluster", "lost", before="reads 50 %", after="off", when="always")
    assert "was reading 50 %, now off; always" in text_of(plan_sheet(replace(PLAIN, behaviours=(gauge,))))


@pytest.mark.parametrize(("road", "word"), [("yes", "YES"), ("no", "NO"), ("not-known", "NOT KNOWN")])
def test_the_road_answer_is_a_word(road: str, word: str) -> None:
    text = text_of(plan_sheet(replace(PLAN, road=road)))
    below = text.split("May it be driven like this?\n")[1].splitlines()
    assert below[1] == f"  {word}"
    assert "  - stop lamp (left stop lamp): lost" in below


def test_the_demonstration_says_that_it_is_one() -> None:
    said = "This is the built-in demonstration"
    assert said in text_of(plan_sheet(PLAN))
    assert said not in text_of(plan_sheet(replace(PLAN, is_demonstration=False)))


def test_neither_seconds_nor_anything_else_of_the_clock_is_printed() -> None:
    slow = replace(PLAN, proof=replace(PLAN.proof, seconds=987.654))
    assert text_of(plan_sheet(slow)) == text_of(plan_sheet(PLAN))


@pytest.mark.parametrize("width", [40, 60, 80, 100])
def test_no_line_is_wider_than_asked_or_ends_in_spaces(width: int) -> None:
    lines = text_of(plan_sheet(PLAN, with_reasons=True), width).splitlines()
    assert max(len(line) for line in lines) <= width
    assert [line for line in lines if line != line.rstrip()] == []


def test_the_sheet_is_drawn_in_ascii() -> None:
    assert text_of(plan_sheet(PLAN, with_reasons=True)).isascii()


def test_every_wire_on_a_card_has_its_colour_beside_its_number() -> None:
    text = text_of(plan_sheet(PLAN))
    for row in CARD.rows:
        if row.wire:
            assert f"{row.colour} ({row.wire})" in text


def test_all_cautions_stand_in_order() -> None:
    text = flat(text_of(plan_sheet(PLAN)).split("\nCautions\n")[1])
    at = [text.index(f"{n}. {caution}") for n, caution in enumerate(CAUTIONS, 1)]
    assert at == sorted(at) and len(at) == 12


def test_a_caution_stands_again_at_the_first_step_it_concerns_only() -> None:
    work = text_of(plan_sheet(PLAN)).split("\nWork list\n")[1].split("\nAlternatives")[0]
    assert work.count("caution 1: ") == 1
    assert work.count("caution 6: ") == 1
    assert flat(work.split("  6. ")[1]).startswith("Insulate and tie back the yellow wire")
    assert "caution 6: Insulate every free end at once." in work.split("  6. ")[1]


def test_a_step_that_cannot_be_undone_says_so() -> None:
    work = text_of(plan_sheet(PLAN)).split("\nWork list\n")[1]
    assert "this cannot be undone" in work.split("  4. ")[1].split("  5. ")[0]
    assert work.count("this cannot be undone") == 1


def test_facts_are_printed_only_when_reasons_are_asked_for() -> None:
    fact = f"fact: {STEPS[2].facts[0]}"
    assert fact not in text_of(plan_sheet(PLAN))
    assert fact in text_of(plan_sheet(PLAN, with_reasons=True))


def test_the_same_loss_at_two_places_is_said_once() -> None:
    text = text_of(plan_sheet(PLAN))
    assert "stop lamp - left stop lamp and right stop lamp" in text


def test_losses_in_different_positions_are_not_put_together() -> None:
    lines = (behaviour("stop lamp", "left", "lost"), behaviour("stop lamp", "right", "lost", when="always"))
    text = text_of(plan_sheet(replace(PLAN, behaviours=lines)))
    assert "stop lamp - left\n" in text and "stop lamp - right\n" in text


def test_what_is_kept_is_not_listed() -> None:
    assert "pump slowly" not in text_of(plan_sheet(PLAN))


def test_a_hazard_that_was_there_before_is_told_apart_from_a_new_one() -> None:
    text = flat(text_of(plan_sheet(PLAN)))
    assert "HAZARD live loose end - a loose end that is live" in text
    assert "were there before the work: BEFORE current with everything at rest - 0.2 A" in text


def test_an_alternative_stands_beside_the_plan_with_its_time_and_losses() -> None:
    table = text_of(plan_sheet(PLAN)).split("side by side\n")[1]
    assert "this plan" in table and "about 1 h 32 min" in table
    assert "A: keep the old switch" in table
    assert "lost: stop lamp (left stop lamp); lost:" in flat(table)
    assert "B: no steps of its own; it leaves out steps of this plan" in flat(table)


def test_a_memory_is_no_loss_of_its_own_beside_alternatives() -> None:
    table = text_of(plan_sheet(PLAN)).split("side by side\n")[1].split("\n\n")[0]
    assert "unintended: buzzer" in table
    assert "changed: step" not in table


def test_a_question_without_answers_and_a_road_without_reasons_are_said_all_the_same() -> None:
    bare = replace(PLAN, questions=(replace(PLAN.questions[0], answers=()),), road_why=())
    text = text_of(plan_sheet(bare))
    assert "is the black/red wire (W41) always live?" in text
    assert "If you find" not in text
    assert "driven like this?\n---------------------------\n  NO\n\n  This is" in text


def test_a_remark_made_twice_is_printed_once() -> None:
    assert text_of(plan_sheet(PLAN)).count("the pump has no fuse") == 1


def test_counts_of_positions_are_a_footnote_and_readable() -> None:
    last = flat(text_of(plan_sheet(PLAN)).split("\n\n")[-1])
    assert last.startswith("Every switch position checked: about 2.5 x 10^52 positions from 16 start states,")
    small = replace(PLAN, proof=replace(PLAN.proof, positions=1_234_567, start_states=1, looms=1))
    last = flat(text_of(plan_sheet(small)).split("\n\n")[-1])
    assert "1,234,567 positions from 1 start state, 67 circuits solved, 1 way of wiring judged." in last


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "about 0 min"),
        (0.4, "about 1 min"),
        (59.4, "about 59 min"),
        (59.6, "about 1 h"),
        (91.0, "about 1 h 31 min"),
    ],
)
def test_bench_time_is_said_in_hours_and_minutes(minutes: float, words: str) -> None:
    assert minutes_words(minutes) == words


def test_beside_alternatives_only_the_first_losses_are_told_and_how_many_more() -> None:
    many = replace(PLAN.alternatives[0], loses=tuple(f"lost: lamp {n}" for n in range(1, 8)))
    table = flat(text_of(plan_sheet(replace(PLAN, alternatives=(many,)))).split("side by side\n")[1])
    assert "lost: lamp 5; and 2 more" in table and "lamp 6" not in table
