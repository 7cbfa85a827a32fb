"""Positions are matched by control and by what each detent means, never by its number or label."""

import pytest

from planner.circuit.network import Network, Variable
from planner.problems import TooLargeError
from planner.proof.align import MOST_COMPARED, Alignment


def network(**controls: dict[str, str]) -> Network:
    """A network with nothing but controls: name, then label: meaning."""
    net = Network(volts=12.0)
    for name, detents in controls.items():
        net.variables[name] = Variable(name, "control", tuple(detents), tuple(detents.values()))
    return net


def alignment(before: Network, after: Network) -> Alignment:
    """Numbered so that equal names have different numbers before and after."""
    return Alignment(
        before,
        after,
        {name: number for number, name in enumerate(before.variables)},
        {name: number + 100 for number, name in enumerate(after.variables)},
    )


def matched(before: dict[str, str], after: dict[str, str]) -> list[tuple[str, str | None, str | None]]:
    """Each joint detent with the label it has before and after."""
    both = alignment(network(knob=before), network(knob=after))
    olds, news = list(before), list(after)
    return [
        (
            s.labels[0],
            olds[s.before[0]] if s.before is not None else None,
            news[s.after[100]] if s.after is not None else None,
        )
        for s in both.settings(["knob"])
    ]


def test_labels_differ_and_meanings_agree() -> None:
    assert matched({"off": "off", "on": "slow"}, {"0": "off", "I": "slow", "II": "fast"}) == [
        ("0", "off", "0"),
        ("I", "on", "I"),
        ("II", None, "II"),
    ]


def test_equal_label_with_another_meaning_is_another_position() -> None:
    assert matched({"off": "off", "on": "slow"}, {"off": "off", "on": "fast"}) == [
        ("off", "off", "off"),
        ("on", None, "on"),
        ("on (before)", "on", None),
    ]


def test_order_of_positions_does_not_matter() -> None:
    assert matched(
        {"off": "off", "side": "side", "head": "head"}, {"off": "off", "head": "head", "side": "side"}
    ) == [
        ("off", "off", "off"),
        ("head", "head", "head"),
        ("side", "side", "side"),
    ]


def test_new_control_stands_at_rest_before() -> None:
    both = alignment(network(), network(hazard={"off": "off", "on": "on"}))
    assert [(s.labels, s.before, s.after) for s in both.settings(["hazard"])] == [
        (("off",), {}, {100: 0}),
        (("on",), None, {100: 1}),
    ]
    assert [(name, d.label) for name, d in both.new_detents()] == [("hazard", "on")]


def test_removed_control_stands_at_rest_after() -> None:
    both = alignment(network(hazard={"off": "off", "on": "on"}), network())
    assert [(s.labels, s.before, s.after) for s in both.settings(["hazard"])] == [
        (("off",), {0: 0}, {}),
        (("on",), {0: 1}, None),
    ]
    assert list(both.new_detents()) == []


def test_setting_that_was_never_possible_is_left_out() -> None:
    """A position that exists only before together with one that exists only after."""
    both = alignment(
        network(a={"off": "off", "old": "old"}, b={"off": "off"}),
        network(a={"off": "off"}, b={"off": "off", "new": "new"}),
    )
    labels = [s.labels for s in both.settings(["a", "b"])]
    assert labels == [("off", "off"), ("off", "new"), ("old", "off")]


def test_too_many_settings_are_refused_by_the_names_of_the_controls() -> None:
    detents = {str(n): str(n) for n in range(10)}
    names = [f"knob {n}" for n in range(6)]
    net = network(**dict.fromkeys(names, detents))
    with pytest.raises(TooLargeError) as refused:
        list(alignment(net, net).settings(names))
    assert refused.value.size == 10**6 > MOST_COMPARED
    assert "knob 0" in str(refused.value)


def test_of_a_control_that_came_out_for_good_each_position_is_held_against_the_loom_without_it() -> None:
    before = network(**{"hull.isolator/isolator": {"off": "off", "on": "on"}})
    numbers = {"hull.isolator/isolator": 0}
    gone = Alignment(before, network(), numbers, {})
    assert [s.after for s in gone.settings(list(numbers))] == [{}, None]
    removed = Alignment(before, network(), numbers, {}, {"hull.isolator"})
    assert [s.after for s in removed.settings(list(numbers))] == [{}, {}]
    assert [s.before for s in removed.settings(list(numbers))] == [{0: 0}, {0: 1}]
