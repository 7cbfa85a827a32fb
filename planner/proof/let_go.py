"""Relays that let go: pulled in before where they rest now, so what their rest brings about nobody wired."""

from collections.abc import Mapping

from planner.proof.behaviour import Behaviour, Start, View

ARMATURE = "armature"


def let_go(
    before: View,
    after: View,
    old: tuple[Behaviour, Mapping[int, int], Start],
    moment: Mapping[int, int],
) -> frozenset[str]:
    """The armatures that a load hung on, that held in a setting, and that rest at a moment of the loom after.

    ``old`` is the load before, with the setting and the start that it is looked at in.
    """
    load, setting, start = old
    found = set()
    for index, number in enumerate(load.group.hidden):
        name = before.label_of(number)
        now = after.variable_number.get(name)
        if before.net.variables[name].kind != ARMATURE or now is None or moment.get(now) != 0:
            continue
        own = tuple(setting[c] for c in load.group.controls)
        if all(state[index] for state in load.group.final(own, start).states):
            found.add(name)
    return frozenset(found)
