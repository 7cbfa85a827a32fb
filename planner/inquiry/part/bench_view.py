"""A part as a meter finds it on the bench: the ohms between its terminals in each of its settings."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, product

from planner.inquiry.part.element_ohms import JOINT, OPEN, Ohms, element_ohms
from planner.inquiry.part.network_ohms import Edge, OhmsNetwork
from planner.model.elements import Coil, Contact, Control, Diode, Flasher, Fuse, Led
from planner.model.part import Part

MOST_SETTINGS = 512  # more than any part has that a person could go through on a bench
NO_OHMS = 1e-3  # less than any meter shows
Matrix = tuple[tuple[Ohms, ...], ...]  # from the red lead's terminal (row) to the black one's (column)
Setting = Mapping[str, str]


@dataclass(frozen=True)
class Alike:
    """Settings in which a meter finds the same everywhere."""

    settings: tuple[Setting, ...]
    ohms: Matrix
    is_powered: bool  # whether a coil has to be fed for them


@dataclass(frozen=True)
class BenchView:
    """What a meter finds between the terminals of a part, setting by setting."""

    part: Part
    marks: tuple[str, ...]
    alike: tuple[Alike, ...]
    any_coil: bool = False  # whether its coils may have other ohms than the catalogue's

    @cached_property
    def comes_round(self) -> bool:
        """Whether two positions of a person may be one setting: what moves by itself comes back to it."""
        by_hand = all(isinstance(e, Control | Contact) or not hasattr(e, "name") for e in self.part.inside)
        return not by_hand or bool(_conditions(self.part))

    def most_positions(self, place: int) -> int:
        """How many positions of a person can be a group of like settings."""
        return MOST_SETTINGS if self.comes_round else len(self.alike[place].settings)

    @cached_property
    def anywhere(self) -> Mapping[bool, Matrix]:
        """The least and the most in any setting with a coil fed, or with none, if there is one."""
        size = range(len(self.marks))
        found: dict[bool, Matrix] = {}
        for powered in (False, True):
            there = [alike.ohms for alike in self.alike if alike.is_powered is powered]
            if there:
                found[powered] = tuple(
                    tuple((min(o[m][n][0] for o in there), max(o[m][n][1] for o in there)) for n in size)
                    for m in size
                )
        return found


def bench_view(part: Part, *, any_coil: bool = False) -> BenchView:
    """Look at a part on the bench in every setting: controls, coils fed or not, steps, cams, what it follows.

    A flasher is at rest, for nothing feeds it. With ``any_coil`` its coils may have any ohms that a coil has.
    """
    marks = tuple(part.terminals)
    found: dict[tuple[Matrix, bool], list[Setting]] = {}
    armatures = [element.name for element in part.inside if isinstance(element, Coil)]
    for setting in islice(_settings(part), MOST_SETTINGS):
        powered = any(setting[name] != part.variables[name][0] for name in armatures)
        found.setdefault((_matrix(part, marks, setting, any_coil), powered), []).append(setting)
    alike = tuple(Alike(tuple(settings), ohms, powered) for (ohms, powered), settings in found.items())
    return BenchView(part, marks, alike, any_coil)


def _settings(part: Part) -> Iterator[Setting]:
    beats = {element.name for element in part.inside if isinstance(element, Flasher)}
    values = {
        name: labels[:1] if name in beats else labels for name, labels in part.variables.items()
    } | _conditions(part)
    for combination in product(*values.values()):
        yield dict(zip(values, combination, strict=True))


def _conditions(part: Part) -> dict[str, tuple[str, ...]]:
    """What contacts wait for outside the part (a pedal, pressure), with one value that none of them names."""
    found: dict[str, dict[str, None]] = {}
    for element in part.inside:
        for name, labels in element.when.items() if isinstance(element, Contact) else ():
            if name not in part.variables:
                found.setdefault(name, {"": None}).update(dict.fromkeys(labels))
    return {name: tuple(values) for name, values in found.items()}


def _matrix(part: Part, marks: tuple[str, ...], setting: Setting, any_coil: bool) -> Matrix:
    roots = _roots(part, setting)
    both_ways: list[Edge] = []
    one_way: list[Edge] = []
    for element in part.inside:
        between: tuple[str, str] | None = getattr(element, "between", None)
        if between is None or isinstance(element, Fuse):
            continue
        ohms_here = element_ohms(element, part.volts, setting, any_coil=any_coil)
        edge = (roots[between[0]], roots[between[1]], ohms_here)
        (one_way if isinstance(element, Diode | Led) else both_ways).append(edge)
    for contact in _closed(part, setting):
        if contact.ohms:
            ends = [roots[name] for name in contact.join]
            both_ways += [(ends[0], end, (contact.ohms / 2, contact.ohms * 2)) for end in ends[1:]]
    network = OhmsNetwork(tuple(both_ways), tuple(one_way))
    found: dict[tuple[str, str], Ohms] = {}

    def ohms(red: str, black: str) -> Ohms:
        if red == black:
            return JOINT
        if not both_ways and not one_way:
            return OPEN
        if (red, black) not in found:
            least, most = network.between(red, black)
            found[red, black] = (least if least > NO_OHMS else 0.0, most + JOINT[1])
        return found[red, black]

    ends = [roots[mark] for mark in marks]
    return tuple(tuple(ohms(red, black) for black in ends) for red in ends)


def _closed(part: Part, setting: Setting) -> Iterator[Contact]:
    for element in part.inside:
        if isinstance(element, Contact) and all(
            setting.get(name) in labels for name, labels in element.when.items()
        ):
            yield element


def _roots(part: Part, setting: Setting) -> dict[str, str]:
    """For each terminal and inner node one name of the conductor that it is on; a fuse is a joint."""
    roots = {name: name for name in (*part.terminals, *part.nodes)}

    def merge(names: tuple[str, ...]) -> None:
        merged = {roots[name] for name in names}
        roots.update({name: roots[names[0]] for name, root in roots.items() if root in merged})

    for contact in _closed(part, setting):
        if not contact.ohms:
            merge(contact.join)
    for element in part.inside:
        if isinstance(element, Fuse):
            merge(element.between)
    return roots
