"""What a sheet wants settled before the engine turns, and readings that can only be taken when it does."""

import pytest
from planned import JOBS, benched

from planner.sheets.build.bench import bench_sheet
from planner.sheets.render.markdown import as_markdown


@pytest.mark.parametrize("job", JOBS)
def test_a_limit_that_the_engine_passes_is_said_first_where_it_is_started(job: str) -> None:
    sheet = benched(job)
    limits = [line.text for line in sheet.plan.remarks if line.is_open]
    _, _, engine = as_markdown(bench_sheet(sheet)).partition("## Starting and charging")
    told, _, _ = engine.partition("Start the engine")
    assert told.count("Not before this is settled") == len(limits)


@pytest.mark.parametrize("job", JOBS)
def test_no_reading_is_asked_first_that_wants_the_work_done(job: str) -> None:
    sheet = benched(job)
    questions = sheet.plan.questions
    said = as_markdown(bench_sheet(sheet))
    with_engine = [q for q in questions if "comes last" in q.how]
    assert all(q.after_work for q in with_engine)
    assert ("readings below first" in said) == any(not q.after_work for q in questions)
    assert ("when all steps are done: it tells" in said) == bool(with_engine)


def test_an_alternator_that_is_stronger_than_the_ammeter_is_not_started() -> None:
    (line,) = (r for r in benched("dynamo-to-alternator").plan.remarks if r.is_open)
    assert "45 A" in line.text and "do not start the engine" in line.text


def test_a_resistor_beside_a_charge_lamp_is_told_with_ohms_and_watts() -> None:
    """A lamp of 0.3 W: 12 V across 84.7 ohm is 1.7 W more; two thirds of that burn 2.6 W."""
    (question,) = benched("alternator-with-led-charge-lamp").plan.questions
    assert "a resistor of 56 to 85 ohm, made for 5 W or more" in " ".join(
        means for _, means in question.answers
    )


def test_where_an_engine_is_it_gets_wet() -> None:
    for loom in {benched(job).before.loom: benched(job).before for job in JOBS}.values():
        for zone in loom.zones.values():
            if zone.title in ("engine", "engine bay") or "in the engine bay" in (zone.title or ""):
                assert zone.wet, (loom.loom, zone.title)


@pytest.mark.parametrize("job", JOBS)
def test_other_volts_are_said_to_reach_what_the_loom_does_not_show(job: str) -> None:
    sheet = benched(job)
    first, _, _ = as_markdown(bench_sheet(sheet)).partition("## Cautions")
    changed = sheet.before.supply.volts != sheet.after.supply.volts
    told = f"is still made for {sheet.before.supply.volts:g} V" in " ".join(first.split())
    assert told == changed


@pytest.mark.parametrize("job", JOBS)
def test_a_usual_limit_that_is_passed_is_named_on_the_first_page(job: str) -> None:
    sheet = benched(job)
    said = " ".join(as_markdown(bench_sheet(sheet)).replace("\\", "").split())
    first, _, _ = said.partition("## Cautions")
    named = [line.text for line in sheet.plan.strains if line.is_new]
    _, _, left = said.partition("## Still to settle")
    for line in sheet.plan.remarks:
        assert not line.is_open or line.text in left.partition("##")[0]
    assert "passes a usual limit" not in first or named
    for text in named:
        assert " ".join(text.split()) in first


@pytest.mark.parametrize("job", JOBS)
def test_a_dynamo_is_polarised_away_from_the_battery_and_from_a_regulator_that_is_not_there(job: str) -> None:
    """The touch sparks: not beside a battery's gas, and caution 2 stands where it is done."""
    sheet = benched(job)
    said = as_markdown(bench_sheet(sheet)).replace("\\", "").splitlines()
    told = [line for line in said if "polarise" in line]
    assert bool(told) >= bool(sheet.charging and sheet.charging.polarised)
    for line in told:
        assert "away from the battery" in line and "regulator" not in line and "to the live post" not in line
        assert (
            "Before the engine turns, polarise" not in line or f"Caution 2: {sheet.plan.cautions[1]}" in line
        )
