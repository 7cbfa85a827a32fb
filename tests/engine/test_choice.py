"""The choice between looms: what is taken, what is only offered, what stands beside, and how it ends."""

from collections.abc import Iterator

import pytest
from choice import Bench, Told, lost, make_part, make_rule, why

from planner.engine.case import Case
from planner.model.delta import Cover, Hold, Move
from planner.model.loom import Loom
from planner.model.need import (
    BareTerminal,
    Emission,
    Fault,
    Fitted,
    FullTerminal,
    LeansOn,
    LooseEnd,
    Proposal,
    Question,
    Remark,
)

HEAD = lost("head lamp", "head")
RADIO = lost("radio")
SHARES = {"x": 0.5, "y": 0.4}


class TestHomes:
    def test_the_way_without_a_fault_is_taken_though_it_is_more_work(self) -> None:
        bench = Bench(homes={"A": ["x", "y+"]}, faults=lambda where: [RADIO] if where["A"] == "x" else [])
        assert bench.chosen() == {"A": "y"}

    def test_of_two_ways_without_a_fault_the_one_of_less_work_is_taken(self) -> None:
        assert Bench(homes={"A": ["x+", "y"]}).chosen() == {"A": "y"}

    def test_an_end_with_a_home_is_never_covered_however_cheap_that_is(self) -> None:
        bench = Bench(homes={"A": ["cover", "x+"]}, own_minutes={"cover": 0})
        assert bench.chosen() == {"A": "x"}

    def test_an_end_without_a_home_is_covered(self) -> None:
        bench = Bench(homes={"A": ["cover"]})
        loom = bench.settle().chosen.candidate.loom
        assert loom.find("A").ends[0].covered and bench.where(loom) == {"A": "loose"}

    def test_what_one_end_does_may_depend_on_another(self) -> None:
        bench = Bench(
            "AB",
            homes={"A": ["x", "y"], "B": ["x", "y"]},
            faults=lambda where: [HEAD] if where["A"] == where["B"] else [],
        )
        chosen = bench.chosen()
        assert chosen["A"] != chosen["B"]

    def test_two_rules_with_one_remedy_give_the_first_as_the_reason(self) -> None:
        bench = Bench(homes={"A": ["x"]})
        bench.rules = [make_rule("second", lambda case: _put(case, "A", "x"))]
        steps = bench.settle().chosen.candidate.steps
        assert [step.why.rule for step in steps if isinstance(step.operation, Move)] == ["home"]


class TestBareTerminals:
    def settle(self, is_unsafe: bool) -> Loom:
        """A bench where one rule fills the bare terminal y, which is unsafe or not."""

        def fill(case: Case) -> Iterator[Emission]:
            if case.need == BareTerminal("p:y"):
                yield Proposal((Cover("p:y"),), why("fill"))

        unsafe = Fault("hazard", "drain", "p:y", hazard="drain")
        bench = Bench(homes={"A": ["x"]}, covered_terminals=False)
        bench.rules = [make_rule("fill", fill)]
        bench.judge = lambda job, loom: (unsafe,) if is_unsafe and "p:y" in loom.covered else ()  # type: ignore[method-assign]
        return bench.settle().chosen.candidate.loom

    def test_a_bare_terminal_that_a_rule_answers_is_filled(self) -> None:
        assert self.settle(is_unsafe=False).covered == ("p:y",)

    def test_a_bare_terminal_is_left_as_it_is_where_filling_it_is_unsafe(self) -> None:
        """One answer is no order: a terminal may stay bare."""
        assert self.settle(is_unsafe=True).covered == ()


class TestOffers:
    def test_an_offer_for_an_end_is_never_made(self) -> None:
        bench = Bench(homes={"A": ["x+"]})
        bench.rules = [make_rule("cheaper", lambda case: _put(case, "A", "y", offer=True))]
        assert bench.chosen() == {"A": "x"}

    def test_an_offer_for_a_fault_is_shown_proven_and_not_made(self) -> None:
        def offer(case: Case) -> Iterator[Emission]:
            if isinstance(case.need, Fault):
                yield Proposal((case.put("A", 0, "p:y"),), why("way-out"), offer=True)

        bench = Bench(homes={"A": ["x"]}, faults=lambda where: [RADIO] if where["A"] == "x" else [])
        bench.rules = [make_rule("way-out", offer)]
        choice = bench.settle()
        assert bench.where(choice.chosen.candidate.loom) == {"A": "x"}
        (alternative,) = [a for a in choice.alternatives if a.why.rule != "keep-the-old-part"]
        assert alternative.title == "because of way-out" and alternative.why.rule == "way-out"
        assert alternative.judged.faults == ()
        assert bench.where(alternative.judged.candidate.loom) == {"A": "y"}

    def test_an_offer_about_a_fitted_part_is_shown(self) -> None:
        def offer(case: Case) -> Iterator[Emission]:
            if case.need == Fitted("p"):
                yield Proposal((case.put("A", 0, "p:y"),), why("nicer"), offer=True)

        bench = Bench(homes={"A": ["x"]})
        bench.rules = [make_rule("nicer", offer)]
        assert [a.why.rule for a in bench.settle().alternatives] == ["nicer"]

    def test_at_most_three_stand_beside_the_plan_and_none_twice(self) -> None:
        def offers(case: Case) -> Iterator[Emission]:
            if isinstance(case.need, Fault):
                for mark in ("y", "z", "y", "x+", "y+", "z+"):
                    where = f"p:{mark.rstrip('+')}"
                    more = (Move("B", 0, "p:b", where, "p:x"),) if mark.endswith("+") else ()
                    yield Proposal((case.put("A", 0, where), *more), why(mark), offer=True)

        bench = Bench("AB", homes={"A": ["x"], "B": ["x"]}, faults=lambda where: [RADIO])
        bench.rules = [make_rule("offers", offers)]
        assert [a.why.rule for a in bench.settle().alternatives] == ["y", "z", "y+"]


class TestBeside:
    def test_the_plan_before_a_repair_that_brought_its_own_fault_is_shown(self) -> None:
        bench = Bench(
            homes={"A": ["x"]},
            repairs={"head lamp": [("A", "y")]},
            faults=lambda where: [HEAD] if where["A"] == "x" else [RADIO],
        )
        choice = bench.settle()
        assert choice.chosen.faults == (RADIO,)
        assert choice.alternatives[0].title == "without the last repair"
        assert choice.alternatives[0].judged.faults == (HEAD,)

    def test_a_repair_that_brought_nothing_leaves_nothing_to_show(self) -> None:
        bench = Bench(
            homes={"A": ["x"]},
            repairs={"head lamp": [("A", "y")]},
            faults=lambda where: [HEAD] if where["A"] == "x" else [],
        )
        choice = bench.settle()
        assert choice.chosen.faults == () and choice.alternatives == ()

    def test_less_work_without_a_wish_is_shown(self) -> None:
        missing = Fault("missing", "clock", "p")
        bench = Bench(homes={"A": ["x", "y+"]}, faults=lambda where: [missing] if where["A"] == "x" else [])
        choice = bench.settle()
        assert bench.where(choice.chosen.candidate.loom) == {"A": "y"}
        (trade,) = choice.alternatives
        assert trade.why.rule == "choice" and trade.judged.weight.minutes < choice.chosen.weight.minutes

    @pytest.mark.parametrize("kind", ["lost", "changed", "unintended", "hazard"])
    def test_less_work_that_makes_something_worse_is_not_shown(self, kind: str) -> None:
        hazard = "short" if kind == "hazard" else None
        worse = Fault(kind, "radio", "p", hazard=hazard)  # type: ignore[arg-type]
        bench = Bench(homes={"A": ["x", "y+"]}, faults=lambda where: [worse] if where["A"] == "x" else [])
        assert bench.settle().alternatives == ()

    def test_losing_something_else_of_the_same_class_for_less_work_is_shown(self) -> None:
        """With a fault in every loom the owner may choose which; the lesser share hides none."""
        bench = Bench(
            homes={"A": ["x", "y+"]},
            faults=lambda where: (
                [lost("radio", share=0.5)] if where["A"] == "x" else [lost("fan", share=0.4)]
            ),
        )
        choice = bench.settle()
        assert [fault.what for fault in choice.chosen.faults] == ["fan"]
        trades = [a for a in choice.alternatives if a.why.rule != "keep-the-old-part"]
        assert [[f.what for f in a.judged.faults] for a in trades] == [["radio"]]

    @pytest.mark.parametrize("fault", [lost("radio"), lost("radio", at="q", path=("feed:x", "p:a", "q:1"))])
    def test_keeping_the_old_part_is_shown_where_it_lies_on_the_way_of_what_is_lost(
        self, fault: Fault
    ) -> None:
        bench = Bench(homes={"A": ["x"]}, faults=lambda where: [fault] if where["A"] == "x" else [])
        (kept,) = bench.settle().alternatives
        assert (kept.why.rule, kept.title) == ("keep-the-old-part", "keep the old part at p")
        assert kept.judged.candidate.minutes == 0 and kept.judged.faults == ()
        assert kept.job is not None and kept.job.swaps == ()

    def test_keeping_a_part_that_has_nothing_to_do_with_the_loss_is_not_shown(self) -> None:
        fault = lost("radio", at="q", path=("feed:x", "q:1"))
        bench = Bench(homes={"A": ["x"]}, faults=lambda where: [fault] if where["A"] == "x" else [])
        assert bench.settle().alternatives == ()


class TestRepairs:
    def test_a_repair_is_kept_if_the_loom_it_makes_is_better(self) -> None:
        bench = Bench(
            homes={"A": ["x"]},
            repairs={"radio": [("A", "y"), ("A", "z")]},
            faults=lambda where: {"x": [RADIO], "y": [HEAD], "z": []}[where["A"]],
        )
        assert bench.chosen() == {"A": "z"}

    def test_a_repair_that_makes_it_worse_is_not_made(self) -> None:
        bench = Bench(
            homes={"A": ["x"]},
            repairs={"radio": [("A", "y")]},
            faults=lambda where: [RADIO] if where["A"] == "x" else [HEAD],
        )
        assert bench.chosen() == {"A": "x"}

    def test_an_accepted_loss_is_not_repaired(self) -> None:
        accepted = lost("radio", accepted=True)
        bench = Bench(
            homes={"A": ["x"]},
            repairs={"radio": [("A", "y")]},
            faults=lambda where: [accepted] if where["A"] == "x" else [],
        )
        assert bench.chosen() == {"A": "x"}

    def test_a_loom_that_is_worse_at_first_is_repaired_too_if_it_can_become_the_best(self) -> None:
        """Only x looks good, and nothing helps it; y has two faults, and one repair takes both away."""
        bench = Bench(
            homes={"A": ["x", "y"]},
            repairs={"fan": [("A", "z")]},
            faults=lambda where: {"x": [RADIO], "y": [lost("fan"), lost("clock")], "z": []}[where["A"]],
        )
        assert bench.chosen() == {"A": "z"}

    def test_a_loom_reached_by_a_repair_costs_no_more_than_the_same_loom_made_at_once(self) -> None:
        """Looms are judged, not paths: an end put elsewhere by a repair is moved once at the bench."""
        direct = Bench(homes={"A": ["y"]}).settle().chosen
        bench = Bench(
            homes={"A": ["x"]},
            repairs={"radio": [("A", "y")]},
            faults=lambda where: [RADIO] if where["A"] == "x" else [],
        )
        assert bench.settle().chosen.candidate.minutes == direct.candidate.minutes


class TestLimits:
    def test_a_search_that_ran_to_its_end_is_proven_cheapest(self) -> None:
        assert Bench(homes={"A": ["x", "y", "z"]}).settle().is_proven_cheapest

    def test_a_search_stopped_by_the_number_of_looms_says_so(self) -> None:
        told = Told()
        bench = Bench(
            homes={"A": ["x"]},
            repairs={"radio": [("A", "y")]},
            faults=lambda where: [RADIO] if where["A"] == "x" else [],
        )
        choice = bench.settle(told, most_looms=1)
        assert not choice.is_proven_cheapest
        assert told.reasons and "1 looms judged" in told.reasons[0]

    def test_more_combinations_than_are_looked_at_are_turned_one_at_a_time_and_said(self) -> None:
        told = Told()
        bench = Bench(
            "ABCD",
            homes={wire: ["x", "y", "z"] for wire in "ABCD"},
            faults=lambda where: [lost(wire) for wire, mark in where.items() if mark != "z"],
        )
        choice = bench.settle(told)
        assert not choice.is_proven_cheapest and told.reasons
        assert bench.where(choice.chosen.candidate.loom) == dict.fromkeys("ABCD", "z")

    def test_rules_that_undo_each_other_are_stopped_and_named_still_to_settle(self) -> None:
        """Two ends are carried from one full terminal to the next, which is then as full, and back."""
        told = Told()

        def carry(case: Case) -> Iterator[Emission]:
            if isinstance(case.need, FullTerminal):
                to = "p:y" if case.need.at == "p:x" else "p:x"
                yield Proposal(tuple(case.put(wire, end, to) for wire, end in case.need.ends), why("carry"))

        bench = Bench("AB", homes={"A": ["x"], "B": ["x"]})
        bench.parts["new"] = make_part("new", "xyz", covered=True)
        bench.rules = [make_rule("carry", carry)]
        choice = bench.settle(told)
        assert any("undo each other" in said for said in choice.unsettled)
        assert not choice.is_proven_cheapest and told.reasons

    def test_an_end_that_no_rule_answers_is_still_to_settle(self) -> None:
        """It hangs loose and bare; a plan that says nothing of it would pass for finished."""
        choice = Bench(homes={}).settle()
        assert choice.chosen.candidate.loom.find("A").ends[0].at == "loose"
        assert len(choice.unsettled) == 1 and "black wire" in choice.unsettled[0]

    def test_a_full_terminal_that_no_rule_answers_is_still_to_settle(self) -> None:
        bench = Bench("AB", homes={"A": ["x"], "B": ["x"]})
        bench.parts["new"] = make_part("new", "xyz", covered=True)
        assert len(bench.settle().unsettled) == 1


class TestNotes:
    def test_questions_and_remarks_met_on_the_way_are_kept_once(self) -> None:
        remark = Remark("mind the gap", why("gap"))

        def note(case: Case) -> Iterator[Emission]:
            yield remark

        bench = Bench(homes={"A": ["x"]})
        bench.rules = [make_rule("gap", note)]
        assert bench.settle().notes == (remark,)

    def test_each_fitted_part_is_put_to_the_rules_once_when_the_plan_is_chosen(self) -> None:
        asked = []

        def ask(case: Case) -> Iterator[Emission]:
            asked.append(case.need)
            yield from ()

        bench = Bench(homes={"A": ["x"]})
        bench.rules = [make_rule("ask", ask)]
        bench.settle()
        assert asked.count(Fitted("p")) == 1

    def test_a_fact_that_is_only_assumed_is_asked_about(self) -> None:
        def ask(case: Case) -> Iterator[Emission]:
            if isinstance(case.need, LeansOn):
                yield Question("what is it?", case.need.at, "meter", (("12 V", "live"),), why("assumed"))

        bench = Bench(homes={"A": ["x"]})
        wires = tuple(wire.model_copy(update={"known": "assumed"}) for wire in bench.loom.wires)
        bench.loom = bench.loom.model_copy(update={"wires": wires})
        bench.rules = [make_rule("assumed", ask)]
        notes = bench.settle().notes
        assert "p:a" in [note.where for note in notes if isinstance(note, Question)]

    def test_a_hold_proposed_for_a_fitted_part_goes_into_the_plan(self) -> None:
        hold = Hold("A", 0, "p:a")

        def propose(case: Case) -> Iterator[Emission]:
            if isinstance(case.need, Fitted):
                yield Proposal((hold,), why("trade"))

        bench = Bench(homes={"A": ["x"]})
        bench.rules = [make_rule("trade", propose)]
        assert [s.operation for s in bench.settle().chosen.candidate.steps][-1] == hold


def _put(case: Case, wire: str, mark: str, offer: bool = False) -> Iterator[Emission]:
    if isinstance(case.need, LooseEnd) and case.need.wire == wire:
        yield Proposal((case.put(wire, 0, f"p:{mark}"),), why("put"), offer)
