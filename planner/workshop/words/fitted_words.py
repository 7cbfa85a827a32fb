"""What has to be known when a part goes in: its place, its earth, what belongs to it, its fuses, its aim."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import ChangeFuse, Extend, Fit, Insert, Renew
from planner.model.elements import AnyElement, Fuse, Lamp, Led
from planner.model.fitted_fuse import fused_side
from planner.model.loom import Place
from planner.model.part import Part
from planner.workshop.ends.batteries import belongings
from planner.workshop.ends.names import Names
from planner.workshop.ends.old_fuses import grown_fuses, grown_over_wires
from planner.workshop.words.setting_words import setting_words

# Families; an LED that dazzles takes no more than a stop lamp.
_THROW_A_BEAM = ("headlamp", "auxiliary-lamp")
_REAR_FOG, _BEHIND = "fog-rear", frozenset({"rear", "reversing"})  # a role; words of what a lamp does


def fitted_words(names: Names, operation: Fit | Insert) -> Iterator[str]:
    """Yield what is said where a part goes in, on a place or in line."""
    part = names.catalogue.parts[operation.place.part]
    if isinstance(operation, Fit):
        yield from _place_of_its_own(names, operation)
        if _is_earthed_by_fixing(names, operation.place):
            yield tr("bare metal under its fixing, which is its earth")
    if things := belongings(names, operation):
        yield tr("with it goes what belongs to it: {things}", things=", ".join(things))
    if isinstance(operation, Fit):
        if grown := grown_fuses(names, operation.at):
            yield tr("fuses that carry more than before ({fuses})", fuses=grown)
            if over := grown_over_wires(names, operation.at):
                yield tr(
                    "a wire behind {marks} stands a little less for good than its fuse lets through; usual "
                    "limits are no sharper than that",
                    marks=over,
                )
            else:
                yield tr(
                    "the wire behind each, as far as this loom shows it, stands it; a smaller fuse that "
                    "carries its load guards the parts behind it better"
                )
        if part.parks:
            yield tr("its arms stay off until it has run to its park place, at full power")
        if throws_a_beam(part):
            yield tr(
                "have its aim checked before it goes on the road by night: a lamp that sits or shines "
                "otherwise may dazzle others"
            )
        yield from setting_words(names, operation)
    left = fuses_left(names, operation.at, operation.place)
    if len(left) > 1:
        yield tr("its fuses stay out until first power")
    elif left:
        yield tr("its fuse stays out until first power")


def throws_a_beam(part: Part) -> bool:
    """Whether a lamp is aimed: a headlamp, a fog or driving lamp; one for the rear is only seen."""
    lamps = [element for element in part.inside if isinstance(element, Lamp | Led)]
    is_rear_fog = any(terminal.role == _REAR_FOG for terminal in part.terminals.values())
    if is_rear_fog or (lamps and all(_BEHIND & set(lamp.does.lower().split()) for lamp in lamps)):
        return False
    return part.family in _THROW_A_BEAM or any(_is_headlamp(element) for element in part.inside)


def _is_headlamp(element: AnyElement) -> bool:
    return isinstance(element, Lamp | Led) and element.duty == "head"


def fuses_left(names: Names, at: str, place: Place) -> list[Fuse]:
    """The fuses that a new part takes, without those in place of which a step lays another ready."""
    fuses = [e for e in names.catalogue.parts[place.part].inside if isinstance(e, Fuse)]
    others = {t.operation.at for t in names.ordered if isinstance(t.operation, ChangeFuse)}
    return [fuse for fuse in fuses if fused_side(at, fuse) not in others]


def _is_earthed_by_fixing(names: Names, place: Place) -> bool:
    """Whether a part has its earth where it is screwed on, and there alone."""
    part = names.catalogue.parts[place.part]
    by_fixing = any(terminal.by == "mounting" for terminal in part.terminals.values())
    return by_fixing and place.mounting == "metal" and not part.must_not_be_earthed


def _place_of_its_own(names: Names, operation: Fit) -> Iterator[str]:
    """Yield how a part that was not there before finds its place: within reach of the wires that it gets."""
    if operation.at in names.before.places:
        return
    changed = {t.operation.wire for t in names.ordered if isinstance(t.operation, Extend | Renew)}
    ends = names.after.ends_of_place(operation.at)
    old = [(w, n) for w, n, _ in ends if w in names.before.wire_index and w not in changed]
    if old:
        wires = tr(" and ").join(names.named(wire, end) for wire, end in old)
        yield (
            tr("find it a place that {wires} reaches as it is", wires=wires)
            if len(old) == 1
            else tr("find it a place that {wires} reach as they are", wires=wires)
        )
