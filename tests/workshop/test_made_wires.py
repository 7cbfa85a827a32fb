"""New wires as they are cut, the joiner of a lengthened one, and materials that shipped jobs rarely need."""

import pytest
from planned import benched
from small_work import ADD, FIT, MADE, MAKE, MOVE, OLD_PLACE, REMOVE, WIRES, work_list

from planner.model.bench_sheet import Material
from planner.model.delta import Add, Cut, Extend, Hold, Move, Piggyback, ReEnd, new_end
from planner.model.job import Job, StockWire
from planner.workshop.ends.crimps import terminal_words
from planner.workshop.materials.made_wires import making
from planner.workshop.materials.materials import cutting, materials
from planner.workshop.materials.pieces import ALLOWANCE_METRES, pieces
from planner.workshop.steps.worklist import WorkList


def needed_lines(work: WorkList) -> tuple[Material, ...]:
    """Every material of a work."""
    made = pieces(work.names, work.ordered)
    job = Job(job="j", loom="tiny")
    return materials(work.names, work.ordered, made, cutting(work.names, made, job), (), job)


def needed(work: WorkList, kind: str) -> list[tuple[str, float]]:
    """What a work needs of one kind, and how many."""
    return [(line.what, line.amount) for line in needed_lines(work) if line.kind == kind]


def test_a_wire_is_cut_longer_than_it_lies_and_only_push_on_ends_get_a_sleeve() -> None:
    work = work_list(REMOVE, FIT, ADD, MAKE)
    (piece,) = pieces(work.names, work.ordered)
    assert (piece.metres, piece.cut_metres) == (0.46, round(0.46 + ALLOWANCE_METRES, 2))
    (made,) = making(work.names, [piece])
    assert [(end.at, end.terminal, end.sleeves, end.label) for end in made.ends] == [
        ("x on the wiper switch, dash", "a 6.3 mm push-on terminal", ("an insulating sleeve",),
         "N2 black/white: x on the wiper switch, dash"),
        ("earth, dashboard", "an M6 ring", (), "N2 black/white: earth, dashboard"),
    ]  # fmt: skip


def test_a_lengthened_wire_needs_a_piece_of_its_own_colour_and_a_joiner() -> None:
    longer = Extend("W3", 0, "dash.switch:53", 0.3, 0.05, (0.7,))
    move = Move("W3", 0, "dash.switch:S", "dash.switch:53")
    work = work_list(REMOVE, FIT, move, longer, ReEnd("W3", 0, "dash.switch:53", "ring-5", None))
    (piece,) = pieces(work.names, work.ordered)
    assert (piece.colour, piece.mm2, piece.cut_metres) == ("YE/BK", 1.0, 0.4)
    assert making(work.names, [piece]) == ()
    assert needed(work, "joiner") == [("insulated joiner for 2 wires, crimped", 1)]
    assert needed(work, "terminal") == [("ring, M5, for 1 mm2 (AWG 16)", 1)]


def test_in_the_middle_of_a_chain_both_legs_are_lengthened_and_go_into_one_terminal_like_the_old() -> None:
    work = work_list(REMOVE, FIT, MOVE, Extend("W2", 1, "dash.switch:53", 0.3, 0.05, (0.9, 0.3)))
    assert [(p.colour, p.mm2) for p in pieces(work.names, work.ordered)] == [("YE", 1.5), ("YE/BK", 1.0)]
    assert needed(work, "joiner") == [("insulated joiner for 2 wires, crimped", 2)]
    (terminal,) = needed(work, "terminal")
    assert terminal == ("push-on terminal, 6.3 mm, for 2.5 mm2 (AWG 12): 1 mm2 + 1.5 mm2 in one crimp", 1)
    (step,) = [step for step in work.steps() if step.do == "extend"]
    assert "a piece of yellow, 1.5 mm2 (AWG 14) and one of yellow/black, 1 mm2 (AWG 16), joined" in step.text


def test_two_wires_in_one_terminal_get_the_size_for_both_areas() -> None:
    """1.5 mm2 and 1 mm2 are 2.5 mm2, which is sold; the end of a chain has one wire in it."""
    work = work_list(REMOVE, FIT, MOVE, ReEnd("W2", 1, "dash.switch:53", "ring-5", None))
    assert needed(work, "terminal") == [("ring, M5, for 2.5 mm2 (AWG 12): 1 mm2 + 1.5 mm2 in one crimp", 1)]
    (step,) = [step for step in work.steps() if step.do == "re-end"]
    assert "an M5 ring for 2.5 mm2 (AWG 12), both its wires in one crimp, for 53" in step.text
    single = work_list(REMOVE, FIT, ReEnd("W3", 0, "dash.switch:53", "ring-5", None))
    assert needed(single, "terminal") == [("ring, M5, for 1 mm2 (AWG 16)", 1)]


def test_where_it_gets_wet_crimps_get_glue_and_joiners_are_sealed() -> None:
    zones = {"dash": {"title": "dashboard", "wet": True}}
    cut = Cut("W2", 1, "dash.switch:M", "joint:dash.switch.M")
    work = work_list(REMOVE, FIT, ADD, MAKE, cut, zones=zones)
    assert needed(work, "sleeve") == [
        ("insulating sleeve for a terminal", 1), ("shrink sleeve with glue inside", 2)
    ]  # fmt: skip
    assert needed(work, "joiner") == [("sealed joiner for 2 wires, crimped, with glue inside", 1)]
    (made,) = making(work.names, pieces(work.names, work.ordered))
    assert [end.sleeves for end in made.ends] == [
        ("a shrink sleeve with glue inside", "an insulating sleeve"), ("a shrink sleeve with glue inside",)
    ]  # fmt: skip


def test_an_end_that_is_off_for_a_while_wants_a_cap() -> None:
    work = work_list(
        Hold("W3", 0, "dash.switch:S"), REMOVE, FIT, Move("W3", 0, "dash.switch:S", "dash.switch:53")
    )
    assert needed(work, "cap") == [("insulating cap for an end that is off for a while", 1)]


def test_piggybacks_are_counted_by_the_size_of_their_tab() -> None:
    work = work_list(REMOVE, FIT, Piggyback("dash.switch:53"), Piggyback("dash.switch:15"))
    lines = needed_lines(work)
    assert [(line.what, line.amount, line.steps) for line in lines if line.kind == "piggyback"] == [
        ("piggyback push-on terminal, 6.3 mm", 2, (3, 4))
    ]


def test_wire_is_cut_from_the_stock_of_its_colour_and_size_only() -> None:
    work = work_list(REMOVE, FIT, ADD, MAKE)
    stock = (
        StockWire(colour="BK/WH", mm2=1.5, metres=0.6, count=2),
        StockWire(colour="BK/WH", mm2=2.5, metres=9),
        StockWire(colour="BK", mm2=1.5, metres=9),
    )
    job = Job(job="j", loom="tiny", stock_wire=stock)
    (plan,) = cutting(work.names, pieces(work.names, work.ordered), job)
    assert [(cut.stock_metres, cut.left_metres) for cut in plan.cuts] == [(0.6, 0.04)]


def test_terminals_have_the_names_of_a_shop() -> None:
    assert [terminal_words(f) for f in ("blade-6.3", "ring-6", "bullet", "contact")] == [
        "push-on terminal, 6.3 mm", "ring, M6", "bullet", "crimped contact, to suit its housing"
    ]  # fmt: skip


def fuses_of(job: str) -> list[tuple[str, float, str]]:
    """The fuses among the materials of a shipped job."""
    return [(m.what, m.amount, m.note) for m in benched(job).materials if m.kind == "fuse"]


def test_the_fuses_of_a_new_box_are_needed_and_may_come_with_it() -> None:
    own = "of the new part, which may come with it"
    assert fuses_of("fuse-box-with-larger-fuses") == [
        ("fuse, 15 A continuous", 1, ""),  # laid ready in place of one of 25 A
        ("fuse, 25 A continuous", 1, own),
    ]
    assert [(amount, note) for _, amount, note in fuses_of("fuse-box-without-tap")] == [
        (6, own), (2, own), (2, own)
    ]  # fmt: skip


def test_a_thick_wire_that_is_cut_goes_on_a_stud_with_two_rings() -> None:
    cut = Cut("W2", 1, "dash.switch:M", "joint:dash.switch.M")
    thin = work_list(REMOVE, FIT, cut)
    (step,) = [s for s in thin.steps() if s.do == "cut"]
    assert "join its two wires in an insulated joiner" in step.text
    thick = work_list(REMOVE, FIT, cut, wires=[{**wire, "mm2": [6, 6]} if wire["wire"] == "W2" else wire
                                               for wire in WIRES])  # fmt: skip
    (step,) = [s for s in thick.steps() if s.do == "cut"]
    assert "both rings on an M6 stud under a cover" in step.text
    assert any("a screw for its foot" in m.note for m in needed_lines(thick) if m.kind == "joiner")
    assert [(m.what, m.amount) for m in needed_lines(thick) if m.kind in ("terminal", "joiner")] == [
        ("ring, M6, for 6 mm2 (AWG 8)", 2), ("M6 stud under a cover, for 2 rings, up to 6 mm2", 1)
    ]  # fmt: skip


def test_a_stud_takes_a_ring_for_each_wire_of_a_chain() -> None:
    joint = "joint:dash.switch.M"
    thick = [{**wire, "mm2": [6, 6]} if wire["wire"] == "W2" else wire for wire in WIRES]
    ends = ReEnd("W2", 1, joint, "ring-6", None), Move("W2", 1, "dash.switch:M", joint)
    work = work_list(REMOVE, FIT, *ends, wires=thick)
    assert [(m.what, m.amount) for m in needed_lines(work) if m.kind in ("terminal", "joiner")] == [
        ("ring, M6, for 6 mm2 (AWG 8)", 2), ("M6 stud under a cover, for 2 rings, up to 6 mm2", 1)
    ]  # fmt: skip
    (step,) = [step for step in work.steps() if step.do == "re-end"]
    assert "with an M6 ring on each of its two wires, for a joiner" in step.text


@pytest.mark.parametrize(("post", "is_live"), [("plus", True), ("minus", False)])
def test_what_is_live_without_a_fuse_gets_sleeving_and_a_boot_over_its_ring(post: str, is_live: bool) -> None:
    ends = (new_end("dash.switch:x", "blade-6.3"), new_end(f"bay.battery:{post}", "ring-8"))
    wire = MADE.model_copy(update={"ends": ends})
    places = {
        "dash.switch": OLD_PLACE.model_dump(),
        "q": {"part": "fuse", "zone": "dash"},
        "bay.battery": {"part": "battery", "zone": "dash"},
    }
    work = work_list(REMOVE, FIT, Add(wire, "30"), places=places)
    boot = [("insulating boot for a ring, M8, for 1.5 mm2 (AWG 14)", 1.0)]
    assert needed(work, "boot") == (boot if is_live else [])
    sleeving = [("sleeving or conduit over a wire of 1.5 mm2 (AWG 14)", 0.46)]
    assert needed(work, "conduit") == (sleeving if is_live else [])
    said = " ".join(step.text for step in work.steps())
    assert ("no fuse is before this wire: sleeving over its whole length" in said) == is_live
    assert ("boot over its ring on 'plus' on the bay.battery: live without a fuse" in said) == is_live
    (made,) = making(work.names, pieces(work.names, work.ordered))
    slid = ("sleeving over its whole length", "an insulating boot")
    assert made.ends[1].sleeves == (slid if is_live else ())
