"""What holds for the plan of every shipped job, whatever it is about."""

import pytest
from planned import JOBS, catalogue, covered, loads, new_hazards, new_strains, planned, steps, worse

from planner.telling.verdict import exit_status


def test_every_shipped_job_is_looked_at() -> None:
    assert set(JOBS) == set(catalogue().job_files)


UNSAFE = ("short", "feeds-tied", "live-loose-end", "bare-live-terminal", "back-feed", "drain", "chatter")
BARE = "Cover the bare terminal "


@pytest.mark.parametrize("job", JOBS)
class TestEveryJob:
    def test_the_exit_status_is_0_only_without_loss(self, job: str) -> None:
        plan = planned(job)
        assert exit_status(plan) == (0 if plan.verdict == "no-loss" else 1)

    def test_the_verdict_losses_names_what_is_lost(self, job: str) -> None:
        """A plan that ends with "losses" has said in a line what does not work; else nobody can accept it."""
        plan = planned(job)
        if plan.verdict == "losses":
            assert worse(plan) or new_hazards(plan) or loads(plan, "missing") or new_strains(plan)

    def test_no_loss_means_that_nothing_is_worse(self, job: str) -> None:
        plan = planned(job)
        if plan.verdict == "no-loss":
            assert worse(plan) == [] and new_hazards(plan) == set() and plan.questions == ()

    def test_a_loss_is_said_with_its_condition_and_its_positions(self, job: str) -> None:
        for kind in ("lost", "changed", "unintended", "gained"):
            for line in planned(job).behaviours:
                if line.outcome == kind:
                    assert line.when and line.positions, line

    def test_an_end_is_either_covered_or_put_somewhere(self, job: str) -> None:
        """Both for one end contradict each other at the bench."""
        moves = {(s.fields["wire"], s.fields["from"]) for s in steps(planned(job), "move")}
        assert covered(planned(job)) & moves == set()

    def test_no_end_is_worked_on_twice_in_one_way(self, job: str) -> None:
        for do, key in (("move", "from"), ("cover", "at"), ("re-end", "at"), ("hold", "at")):
            ends = [(s.fields.get("wire"), s.fields[key]) for s in steps(planned(job), do)]
            assert len(ends) == len(set(ends)), do

    def test_a_held_end_is_put_on_only_when_the_other_has_left(self, job: str) -> None:
        """Else the terminal it goes to is still taken, and holding it was for nothing."""
        moves = {(s.fields["wire"], s.fields["from"]): s for s in steps(planned(job), "move")}
        for hold in steps(planned(job), "hold"):
            move = moves[hold.fields["wire"], hold.fields["at"]]
            leaving = [other.n for (_, at), other in moves.items() if at == move.fields["to"]]
            assert all(hold.n < n < move.n for n in leaving), hold.text

    def test_every_step_says_why_and_on_what_ground(self, job: str) -> None:
        for step in planned(job).steps:
            assert step.because and all(step.facts) and step.source, step.text

    def test_nothing_original_is_cut(self, job: str) -> None:
        """No shipped job allows cutting."""
        assert steps(planned(job), "cut") == []

    def test_a_remark_is_made_once(self, job: str) -> None:
        texts = [remark.text for remark in planned(job).remarks]
        assert len(texts) == len(set(texts))

    def test_new_wires_have_numbers_of_their_own(self, job: str) -> None:
        """The wires of a loom may be called N1 too; a new wire may not borrow the name."""
        plan = planned(job)
        new = [s.fields["wire"] for s in steps(plan, "add")]
        old = {s.fields["wire"] for do in ("move", "cover", "re-end", "hold") for s in steps(plan, do)
               if "wire" in s.fields}  # fmt: skip
        assert len(new) == len(set(new)) and not set(new) & old

    def test_the_cautions_and_the_operating_points_are_always_there(self, job: str) -> None:
        document = planned(job).as_json()
        assert len(document["cautions"]) >= 12
        assert document["currents"]["points"] > 0
        assert document["currents"]["worst_residual_amps"] < 1e-9

    def test_at_most_three_plans_stand_beside_it_each_with_its_minutes(self, job: str) -> None:
        alternatives = planned(job).alternatives
        assert len(alternatives) <= 3
        assert all(a.title and a.because for a in alternatives)
        # Only keeping every old part is no work.
        assert all(a.minutes > 0 or a.steps == () for a in alternatives)

    def test_whatever_is_offered_beside_it_is_no_less_safe(self, job: str) -> None:
        """Only the plan before a repair that brought its own fault may be worse: it shows what was cured."""
        if planned(job).verdict != "unsafe":
            for alternative in planned(job).alternatives:
                if alternative.title != "without the last repair":
                    assert [loss for loss in alternative.loses if loss.startswith(UNSAFE)] == [], alternative

    def test_no_terminal_is_covered_as_bare_and_given_a_wire(self, job: str) -> None:
        """In the plan or beside it; a cover that a later repair made void is no step."""
        plan = planned(job)
        for texts in ([step.text for step in plan.steps], *(a.steps for a in plan.alternatives)):
            bare = [t.removeprefix(BARE) for t in texts if t.startswith(BARE)]
            wires = [t.partition(", from ")[2] for t in texts if ", from " in t]
            ends = {end for wire in wires for end in wire.partition(";")[0].split(" to ")}
            assert [at for at in bare if at in ends] == [], texts

    def test_the_minutes_of_the_plan_are_those_of_its_steps(self, job: str) -> None:
        """Whoever adds up the work list comes to the figure under it."""
        assert abs(planned(job).minutes - sum(step.minutes for step in planned(job).steps)) < 0.5

    def test_nothing_is_moved_to_where_it_hangs_loose(self, job: str) -> None:
        """Taking an end off and tying it back is one step, a cover."""
        assert [s.text for s in steps(planned(job), "move") if s.fields["to"] in ("loose", "unknown")] == []
