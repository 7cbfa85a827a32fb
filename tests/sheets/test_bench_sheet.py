"""What the sheet for the bench says before the first step."""

from dataclasses import replace

import pytest
from hand_made import text_of
from planned import benched

from planner.commands import main
from planner.model.bench_sheet import BenchSheet
from planner.model.picture import Picture
from planner.sheets.build.bench import bench_sheet
from planner.sheets.sheet import Figure


@pytest.mark.parametrize(
    ("job", "is_lost"), [("interior-lamp-without-earth", True), ("two-speed-wipers", False)]
)
def test_a_sheet_says_what_no_longer_works(
    job: str, is_lost: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["sheet", job])
    said = capsys.readouterr().out
    assert ("lost: interior light (interior lamp, roof lining)" in said) == is_lost
    assert ("no longer works" in said) == is_lost


@pytest.mark.parametrize(
    ("job", "told"),
    [
        ("hauler-to-12-volts", "the relay at the work lamp relay gets 12.5 V; it needs 15.0 V to pull in"),
        (
            "minibus-led-tail-lamps",
            "the relay at the bulb check unit gets 0.01 V; it needs 0.04 V to pull in",
        ),
    ],
)
def test_a_sheet_says_what_the_work_makes_too_much_or_too_little(
    job: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["sheet", job])
    said = " ".join(capsys.readouterr().out.split())
    assert "too much, too little or the wrong way round: -" in said
    assert said.index(told) < said.index("Before the work")


def test_what_makes_a_plan_unsafe_is_told_once(capsys: pytest.CaptureFixture[str]) -> None:
    main(["sheet", "car-to-negative-earth"])
    said = " ".join(capsys.readouterr().out.split())
    assert said.count("radio is made for the other pole earthed and gets 12.0 V the wrong way round") == 1


@pytest.mark.parametrize(
    ("job", "verdict"),
    [
        ("dip-relay-four-to-five", "nothing that worked is lost, and nothing is left open"),
        ("ignition-switch-without-accessory", "; but a terminal gets hot"),
        ("dynamo-to-alternator", "something has no answer yet, so the plan is not complete"),
        ("two-speed-wipers", "everything works as before, and nothing is left open"),
    ],
)
@pytest.mark.parametrize("verb", ["sheet", "plan"])
def test_the_verdict_says_the_same_on_paper_and_on_a_terminal(
    verb: str, job: str, verdict: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main([verb, job])
    said = " ".join(capsys.readouterr().out.split())
    assert f"{verdict}." in said.partition("Job:")[0]


def test_a_dead_position_is_told_before_the_first_step(capsys: pytest.CaptureFixture[str]) -> None:
    main(["sheet", "two-speed-switch-only"])
    said = " ".join(capsys.readouterr().out.split())
    dead = "nothing works there (wipe slowly); the blades stop where they are; with the wiper switch at fast"
    assert said.index(dead) < said.index("Before the work")


def test_what_comes_of_a_coil_with_too_little_is_told_with_what_brings_it_about(
    capsys: pytest.CaptureFixture[str],
) -> None:
    main(["sheet", "minibus-led-tail-lamps"])
    said = " ".join(capsys.readouterr().out.split())
    assert (
        "unintended: bulb check warning lamp (bulb check warning lamp): the relay at the bulb check unit "
        "held it off, and no longer pulls in; with the lighting switch not at off"
    ) in said


def test_what_was_never_there_is_not_told_as_something_that_no_longer_works() -> None:
    """A second speed that the van never had, a relay's own step, a wish that these steps do not bring."""
    for job in ("two-speed-motor-only", "dip-relay-four-to-five", "launch-battery-isolator"):
        assert "no longer works as it did" not in text_of(bench_sheet(benched(job)))
    assert "- not used: wipe fast (wiper motor" in text_of(bench_sheet(benched("two-speed-motor-only")))


def test_pictures_of_a_place_stand_with_its_steps_and_those_of_the_whole_after_them() -> None:
    bench = benched("two-speed-wipers")
    kinds = (("place", "scuttle.wiper-motor"), ("circuit", ""), ("loom", ""))
    pictures = tuple(Picture(k, k, k, "both", p, f"of a {k}", "<svg/>", 9, 9) for k, p in kinds)
    sheet = bench_sheet(replace(bench, pictures=pictures))
    shown = {
        block.picture.name: section.heading
        for section in sheet.sections
        for block in section.blocks
        if isinstance(block, Figure)
    }
    assert shown.pop("place").endswith("wiper motor, scuttle (engine bay)")
    assert shown == {"circuit": "The circuits, before and after", "loom": "The whole loom"}


def test_pictures_of_a_place_that_is_visited_twice_are_shown_once() -> None:
    bench = benched("horn-and-relay")
    twice = [visit for visit in bench.visits if visit.place == "front.horn" or "horn" in visit.title]
    place = next(v.place for v in twice if sum(other.place == v.place for other in bench.visits) > 1)
    picture = Picture("horn", "place", "Before: horn", "before", place, "of a horn", "<svg/>", 9, 9)
    sheet = bench_sheet(replace(bench, pictures=(picture,)))
    shown = [s.heading for s in sheet.sections for block in s.blocks if isinstance(block, Figure)]
    assert len(shown) == 1 and shown[0].startswith("Place 1: ")
    assert "Its terminals are drawn at place 1" in " ".join(text_of(sheet).split())


def test_each_end_of_a_new_wire_is_told_with_its_label_sleeve_and_terminal_in_that_order() -> None:
    said = " ".join(text_of(bench_sheet(benched("two-speed-wipers"))).split())
    assert (
        "label: N2 black: 31 on the wiper motor, scuttle; slide on a shrink sleeve with glue inside and an "
        "insulating sleeve first, then crimp a 6.3 mm push-on terminal, and tug"
    ) in said
    assert "label: N1 yellow/red: 53b on the wiper switch, dash" in said


def test_what_a_plan_remarks_on_is_read_before_the_first_step(capsys: pytest.CaptureFixture[str]) -> None:
    main(["sheet", "car-to-negative-earth"])
    said = " ".join(capsys.readouterr().out.split())
    assert said.index("repolarise it when the battery is on the new way round") < said.index(
        "Before the work"
    )
    bench = benched("two-speed-wipers")
    bare = replace(bench, plan=replace(bench.plan, remarks=()))
    headings = [[section.heading for section in bench_sheet(each).sections] for each in (bench, bare)]
    assert ["Bear in mind" in each for each in headings] == [True, False]


def test_no_reading_is_said_with_powers_of_ten(capsys: pytest.CaptureFixture[str]) -> None:
    main(["sheet", "minibus-electronic-ignition"])
    said = capsys.readouterr().out
    assert " ohm" in said and "e+0" not in said


def test_what_is_made_where_it_gets_wet_is_told_to_want_sealing() -> None:
    def said(bench: BenchSheet) -> str:
        return " ".join(text_of(bench_sheet(bench)).split())

    bench = benched("two-speed-wipers")  # the motor sits in the engine bay, the switch behind the dash
    assert "It gets wet in: engine bay. Shrink sleeves with glue inside and sealed joiners" in said(bench)
    dry = {name: zone.model_copy(update={"wet": False}) for name, zone in bench.after.zones.items()}
    assert "gets wet" not in said(replace(bench, after=bench.after.model_copy(update={"zones": dry})))


def test_fuses_come_out_before_the_work_also_where_the_work_takes_their_box_away() -> None:
    sheet = benched("fuse-box-with-like-fuses")
    without = text_of(bench_sheet(replace(sheet, fuses=())))
    assert "Take every fuse out" in without
    part_of_a_vehicle = benched("feed-of-unknown-nature")  # no fuse is drawn in its loom
    assert "Take every fuse out" in text_of(bench_sheet(part_of_a_vehicle))
    drawn = benched("dynamo-to-alternator")
    assert drawn.plan.not_seen and "Take every fuse out" in text_of(bench_sheet(drawn))
    whole = replace(drawn, plan=replace(drawn.plan, not_seen=()))
    assert "Take every fuse out" not in text_of(bench_sheet(whole))


def test_each_fuse_is_called_what_it_is_also_one_that_a_feed_stands_for() -> None:
    said = text_of(bench_sheet(benched("led-indicators")))
    feed = "the feed ignition (15 A; not drawn: it lies before the orange/black wire (S1)):"
    assert f"Fuse of {feed}" in " ".join(said.split())
    boxed = text_of(bench_sheet(benched("fuse-box-with-like-fuses")))
    assert "Fuse 1 on the fuse box, under the dash (7.5 A):" in " ".join(boxed.split())


@pytest.mark.parametrize(
    ("job", "said"),
    [
        ("led-indicators", "The flasher unit, behind the dash stays: flasher unit, electronic"),
        ("led-rear-lamps", ""),  # it is exchanged
        ("two-speed-wipers", ""),
    ],
)
def test_a_flasher_that_stays_before_new_turn_lamps_is_named_on_the_first_page(job: str, said: str) -> None:
    first = " ".join(text_of(bench_sheet(benched(job))).partition("Cautions")[0].split())
    assert said in first and bool(said) == ("See that this is what is fitted there" in first)


def test_a_bare_end_is_stripped_and_the_other_crimped() -> None:
    said = " ".join(text_of(bench_sheet(benched("tractor-to-12-volts-new-wiper"))).split())
    assert "label: N1 black: 31 on the cab wiper; strip it, and leave it bare" in said
    assert "crimp a bare end" not in said
    assert "T13 white/green S on the temperature gauge" in said, (
        "an end of a part that is exchanged in one go"
    )


def test_the_battery_comes_off_before_the_first_step_whatever_that_is() -> None:
    bench = benched("fuse-box-mirrored")
    assert bench.plan.steps[0].do == "hold"  # which no caution about the battery concerns by itself
    said = text_of(bench_sheet(bench))
    place = said.index("Place 1")
    assert said.index("caution 1:", place) < said.index(f"{bench.plan.steps[1].text[:30]}", place)
    assert said.count("caution 1:") == 1


def test_what_is_said_of_several_places_in_the_same_words_is_said_once() -> None:
    said = " ".join(text_of(bench_sheet(benched("launch-led-navigation-lamps"))).split())
    assert "port lamp, starboard lamp, stern lamp: Whether it may be used on the water" in said
    assert said.count("Whether it may be used on the water") == 1


def test_a_loss_that_the_job_accepts_is_not_told_as_a_surprise() -> None:
    def said(job: str) -> str:
        return " ".join(text_of(bench_sheet(benched(job))).split())

    accepted, lost = said("dynamo-to-alternator"), said("interior-lamp-without-earth")
    assert "What goes with the old parts, which the job knows of: - lost, accepted: dynamo field" in accepted
    assert "no longer works" not in accepted and "no longer works as it did" in lost


def test_a_loss_says_when_and_equal_losses_are_one_line() -> None:
    """At the vehicle there is nobody to ask the plan."""
    said = " ".join(text_of(bench_sheet(benched("whole-van"))).split())
    lamps = (
        "main beam (left headlamp), main beam (right headlamp), main-beam warning lamp (instrument cluster)"
    )
    flash = "as the flash of the headlamps, with the dip lever pulled, except with"
    assert f"lost: {lamps}; {flash}" in said
    assert "Everything else works as it did." in said and "loomwright plan" not in said


def test_what_is_new_stands_on_the_first_page() -> None:
    said = " ".join(text_of(bench_sheet(benched("two-speed-wipers"))).split())
    new = said.index("What is new then: - gained: wipe fast (wiper motor, scuttle); with")
    assert new < said.index("Cautions") and "Everything else works" not in said


def test_an_ammeter_that_ends_below_what_the_generator_gives_is_left_to_settle() -> None:
    said = " ".join(text_of(bench_sheet(benched("dynamo-to-alternator"))).split())
    told = "the ammeter, dash ends at 30 A and the alternator gives up to 45 A"
    assert "Verdict: UNSETTLED" in said and said.index(told) < said.index("Before the work")
    assert "Not before this is settled: " + told in said and said.count(told) == 2
    small = " ".join(text_of(bench_sheet(benched("dynamo-to-small-alternator"))).split())
    assert "ends at 30 A" not in small


def test_a_reading_on_paper_names_its_source_and_no_rule() -> None:
    said = text_of(bench_sheet(benched("trailer-socket-13")))
    assert "source: common practice, no source" in said and "unknown-end" not in said


def test_without_any_fuse_first_power_speaks_of_none_that_goes_in() -> None:
    said = " ".join(text_of(bench_sheet(benched("dynamo-to-alternator"))).split())
    assert (
        "What has to answer:" in said
        and "With the lamp in series: ammeter (ammeter, dash); ignition spark" in said
    )
    assert "With all fuses in" not in said
