"""New wires as they are cut, the joiner of a lengthened one, and materials that shipped jobs rarely need."""

from small_work import ADD, FIT, MAKE, MOVE, REMOVE, work_list

from planner.model.delta import Extend, Piggyback
from planner.model.job import Job, StockWire
from planner.workshop.made_wires import ALLOWANCE_METRES, making, pieces
from planner.workshop.materials import cutting, terminal_words
from planner.workshop.shelf import Shelf
from planner.workshop.small_things import small_things


def test_a_wire_is_cut_longer_than_it_lies_and_only_push_on_ends_get_a_sleeve() -> None:
    work = work_list(REMOVE, FIT, ADD, MAKE)
    (piece,) = pieces(work.names, work.ordered)
    assert (piece.metres, piece.cut_metres, piece.sleeves) == (0.46, round(0.46 + ALLOWANCE_METRES, 2), 1)
    (made,) = making(work.names, [piece], ())
    assert made.labels == ("N2 black/white: x on the wiper switch, dash", "N2 black/white: earth, dashboard")


def test_a_lengthened_wire_needs_a_piece_of_its_own_colour_and_a_joiner() -> None:
    work = work_list(REMOVE, FIT, MOVE, Extend("W2", 1, "dash.switch:53", 0.3, 0.05))
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
