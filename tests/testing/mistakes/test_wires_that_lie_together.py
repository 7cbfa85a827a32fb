"""Which wires may have chafed on each other: those of a bundle first, and one pair for two conductors."""

from testing_ground import ground

from planner.testing.mistakes.beside import SAME_WAY, lying_together


def test_wires_between_two_places_lie_closer_than_those_between_two_zones() -> None:
    pairs = lying_together(ground("skarrow-8").wired.loom)
    assert pairs["W36", "W37"] == 1  # both from the wiper switch to its motor
    assert pairs["W36", "W38"] == SAME_WAY  # both from the dash to the engine bay
    assert list(pairs.values()) == sorted(pairs.values())


def test_of_two_conductors_that_run_the_same_way_one_pair_is_named() -> None:
    loom = ground("skarrow-8").wired.loom
    pairs = lying_together(loom)
    washer, wiper = {"W38", "W39"}, {"W36"}  # W38 and W39 are one conductor, through a joiner
    assert len([pair for pair in pairs if set(pair) & washer and set(pair) & wiper]) == 1


def test_wires_of_different_ways_and_the_legs_of_one_conductor_do_not_chafe() -> None:
    pairs = {frozenset(pair) for pair in lying_together(ground("skarrow-8").wired.loom)}
    assert not pairs & {frozenset(("W38", "W39")), frozenset(("W36", "W93"))}
    assert len(pairs) < 400
