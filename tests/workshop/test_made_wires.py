"""New wires as they are cut, the joiner of a lengthened one, and materials that shipped jobs rarely need."""

from planned import benched
from small_work import ADD, FIT, MAKE, MOVE, REMOVE, WIRES, work_list

from planner.model.delta import Cut, Extend, Piggyback
from planner.model.job import Job, StockWire
from planner.workshop.made_wires import ALLOWANCE_METRES, making, pieces
from planner.workshop.materials import cutting, materials, terminal_words
from planner.workshop.shelf import Shelf
from planner.workshop.small_things import small_things


def test_a_wire_is_cut_longer_than_it_lies_and_only_push_on_ends_get_a_sleeve() -> None:
    work = work_list(REMOVE, FIT, ADD, MAKE)
    (piece,) = pieces(work.names, work.ordered)
    assert (piece.metres, piece.cut_metres, piece.sleeves) == (0.46, round(0.46 + ALLOWANCE_METRES, 2), 1)
    (made,) = making(work.names, [piece], ())
    assert made.labels == ("N2 black/white: x on the wiper switch, dash", "N2 black/white: earth, dashboard")


def test_a_lengthened_wire_needs_a_piece_of_its_own_colour_and_a_joiner() -> None:
    work = work_list(REMOVE, FIT, MOVE, Extend("W2", 1, "dash.switch:53", 0.3, 0.05, (0.9, 0.3)))
    (piece,) = pieces(work.names, work.ordered)
    assert (piece.colour, piece.mm2, piece.cut_metres, piece.joiners) == ("YE", 1.5, 0.4, 1)
    assert making(work.names, [piece], ()) == ()
    lines = list(small_things(work.names, tuple(enumerate(work.ordered, 1)), [piece], Shelf(())))
    assert [(line.kind, line.what, line.amount) for line in lines] == [
        ("joiner", "insulated joiner for 2 wires, crimped", 1)
    ]


def test_piggybacks_are_counted_by_the_size_of_their_tab() -> None:
    work = work_list(REMOVE, FIT, Piggyback("dash.switch:53"), Piggyback("dash.switch:15"))
    lines = list(small_things(work.names, tuple(enumerate(work.ordered, 1)), [], Shelf(())))
    assert [(line.what, line.amount, line.steps) for line in lines] == [
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
    (plan,) = cutting(pieces(work.names, work.ordered), job)
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
    lines = materials(thick.names, thick.ordered, (), (), (), Job(job="j", loom="tiny"), ())
    assert [(m.what, m.amount) for m in lines if m.kind in ("terminal", "joiner")] == [
        ("ring, M6, for 6 mm2", 2), ("M6 stud under a cover, for 2 rings, up to 6 mm2", 1)
    ]  # fmt: skip
