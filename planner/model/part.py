"""A part: a type of component in the catalogue."""

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from planner.model.elements import (
    ARMATURE_STATES,
    AnyElement,
    Cam,
    Coil,
    Contact,
    Control,
    Diode,
    EndUser,
    Flasher,
    Fuse,
    Name,
    Record,
    Source,
    Stabiliser,
    Step,
    TerminalName,
    WrappedElement,
)

FITTING_PATTERN = (
    r"^(blade-(2\.8|4\.8|6\.3|9\.5)|bullet|screw|stud-(4|5|6|8|10)|ring-(4|5|6|8|10)|bare|soldered|contact)$"
)
Fitting = str
BODY_STUD = "stud-6"  # the usual body screw; common practice, no source
# An end with the first kind goes on a terminal with the second: trade practice, no source.
FITS = {"screw": ("screw", "bare"), "bare": ("screw", "bare"), "contact": ("contact", "bare")} | {
    f"stud-{size}": (f"stud-{size}", f"ring-{size}") for size in (4, 5, 6, 8, 10)
}
MEASURED_SOURCE = "measured-on-the-bench"  # of a part that is known from a meter's readings alone
UNKNOWN_FAMILY = "unmarked"  # of such a part where nobody has said what it is
Wants = Literal["live", "ignition", "earth", "partner", "nothing"]
Mounting = Literal["metal", "insulated", "doubtful"]
Held = Literal["stud", "hole", "bracket", "screws", "clamp", "plug-in", "in-line"]
Polarity = Literal["indifferent", "reverses", "repolarise", "negative-earth", "positive-earth"]


class Role(Record):
    """What a terminal can do, and where it stands on the way from the live pole to earth."""

    rank: int = Field(ge=0, le=100, description="0 the live pole, 100 earth")
    meaning: str = Field(min_length=1)
    wants: Wants = Field("nothing", description="what a terminal of this role cannot do without")
    mm2: float = Field(1.5, gt=0, le=120, description="usual conductor for a new wire")
    colour: str | None = Field(None, description="usual colour of a new wire, if the loom has no scheme")
    fed_by: str | None = Field(
        None, description="of a switched return: the role of the load's feed where that is switched instead"
    )
    words: tuple[str, ...] = Field((), description="plain words people use for it, for searching")
    source: str = Field(min_length=1)
    basis: str = Field(min_length=1)


class Terminal(Record):
    """One terminal of a part."""

    role: str | None = Field(None, description="a role of roles.yaml; omitted if unknown")
    fitting: Fitting = Field(
        "blade-6.3",
        pattern=FITTING_PATTERN,
        description="omitted: blade-6.3, or stud-6 where it is connected by the mounting",
    )
    holds: int = Field(1, ge=1, le=12, description="how many ends it takes")
    by: Literal["mounting", "wire"] = Field(
        "wire", description="connected by the part's mounting, or by wire"
    )
    stamped: bool = Field(True, description="false if nothing is stamped beside it")
    piggyback: bool = Field(True, description="false if a piggyback cannot be fitted")
    wants: Wants | None = Field(None, description="if it differs from its role's")
    face: tuple[int, int] | None = Field(None, description="column, row, seen from the wiring side")
    further_metres: float = Field(0.0, ge=0, le=2, description="how much further than the usual terminal")
    covered: bool = Field(False, description="true if it is covered by its housing when no wire is on it")

    @model_validator(mode="before")
    @classmethod
    def _held_by_a_screw(cls, value: Any) -> Any:
        """What connects by its mounting is held by a screw, of the usual size unless it says another."""
        if isinstance(value, Mapping) and value.get("by") == "mounting" and "fitting" not in value:
            return {**value, "fitting": BODY_STUD}
        return value

    def takes(self, end_fitting: str) -> bool:
        """Whether an end with this fitting goes on without being re-ended."""
        return end_fitting == self.fitting or end_fitting in FITS.get(self.fitting, ())

    @property
    def usual_end(self) -> str:
        """The fitting that a new end is given for this terminal: a ring for a stud, bare for a screw."""
        if self.fitting.startswith("stud-"):
            return self.fitting.replace("stud-", "ring-")
        return "bare" if self.fitting == "screw" else self.fitting


def _joints(elements: Iterable[AnyElement]) -> Mapping[str, tuple[tuple[str, ...], ...]]:
    found: dict[str, list[tuple[str, ...]]] = {}
    for element in elements:
        if isinstance(element, Contact | Fuse | Flasher | Diode | Stabiliser):
            nodes = element.join if isinstance(element, Contact) else element.between
            for node in dict.fromkeys(nodes):
                found.setdefault(node, []).append(nodes)
    return {node: tuple(joints) for node, joints in found.items()}


class Part(Record):
    """A type of component: its terminals, what is inside, its ratings, how it mounts."""

    part: str = Field(pattern=r"^[a-z0-9][a-z0-9.-]{0,60}$", description="unique id in the catalogue")
    title: str = Field(min_length=1, max_length=100)
    family: str = Field(pattern=r"^[a-z0-9][a-z0-9-]{0,40}$")
    volts: float = Field(12, gt=0, le=60)
    mounts: Held | None = Field(
        None,
        description="how it is held: on a stud of its own, in a hole of a panel or casting, on a bracket, by "
        "screws, in a clamp or clip, plugged in, in line; a terminal by mounting says whether that earths it",
    )
    years: str = Field("any", pattern=r"^(any|\d{4}-\d{4}|\d{4}-|-\d{4})$")
    source: str = Field(min_length=1, description="key into sources.yaml")
    polarity: Polarity | None = Field(
        None,
        description="when the other pole is earthed: indifferent; reverses (runs or reads backwards until "
        "its leads are exchanged; the first terminal in between wants to be the positive one); repolarise "
        "(a dynamo); negative-earth or positive-earth (made for that only). Omitted: as its elements tell, "
        "else it is asked",
    )
    must_not_be_earthed: bool = Field(False, description="its case must not touch the body")
    must_not_be_crossed: bool = Field(
        False, description="with its leads crossed it is harmed, and does not just stay dark or run backwards"
    )
    minutes: float = Field(10, gt=0, le=600, description="bench minutes to fit it")
    note: str | None = Field(None, description="one sentence for the restorer")
    fitted_with: Mapping[Annotated[str, Field(min_length=1, max_length=100)], int] = Field(
        default_factory=dict,
        description="what else is needed to fit it, and how many of it: {gasket of the tank sender: 1}",
    )
    here_for: str | None = Field(
        None,
        min_length=1,
        max_length=100,
        description="why the catalogue has it, where no loom has it and no job fits it",
    )
    words: tuple[str, ...] = Field((), description="other words people search it by")
    terminals: Mapping[TerminalName, Terminal] = Field(min_length=1)
    nodes: tuple[Name, ...] = ()
    inside: tuple[WrappedElement, ...] = ()

    def __hash__(self) -> int:
        """By its id, so that what is worked out of two parts can be kept; equal parts have equal ids."""
        return hash(self.part)

    @cached_property
    def variables(self) -> Mapping[str, tuple[str, ...]]:
        """Each variable of the part and its values by label, rest first."""
        found: dict[str, tuple[str, ...]] = {}
        for element in self.inside:
            if isinstance(element, Control):
                found[element.name] = tuple(p.label for p in element.positions)
            elif isinstance(element, Coil):
                found[element.name] = ARMATURE_STATES
            elif isinstance(element, Step | Cam | Flasher):
                found[element.name] = tuple(element.states)
        return found

    @cached_property
    def controls(self) -> Mapping[str, Control]:
        """The part's controls by name."""
        return {e.name: e for e in self.inside if isinstance(e, Control)}

    @cached_property
    def runs_out(self) -> bool:
        """Whether it does something for a while and then stops by itself, as a delay does."""
        return any(control.runs_out for control in self.controls.values())

    @cached_property
    def parks(self) -> bool:
        """Whether it runs to a place of its own by itself once it is switched off."""
        return any(isinstance(element, Cam) for element in self.inside)

    @cached_property
    def joints(self) -> Mapping[str, tuple[tuple[str, ...], ...]]:
        """What each contact, fuse, flasher, diode and stabiliser joins, by each of its nodes, in order."""
        return _joints(self.inside)

    @cached_property
    def lasting_joints(self) -> Mapping[str, tuple[tuple[str, ...], ...]]:
        """The same without the contacts that close only while a hand holds a lever, or a ratchet steps."""
        rest = {e.name: e.returns for e in self.inside if isinstance(e, Control) and e.returns}
        rest |= {e.stepped_by: ARMATURE_STATES[0] for e in self.inside if isinstance(e, Step)}
        return _joints(
            element
            for element in self.inside
            if not isinstance(element, Contact)
            or all(rest.get(name, values[0]) in values for name, values in element.when.items())
        )

    @cached_property
    def users(self) -> Mapping[str, tuple[EndUser, ...]]:
        """The loads that are there for somebody, by each node they sit at, in order."""
        found: dict[str, list[EndUser]] = {}
        for element in self.inside:
            if isinstance(element, EndUser) and element.does:
                for node in dict.fromkeys(element.between):
                    found.setdefault(node, []).append(element)
        return {node: tuple(users) for node, users in found.items()}

    @cached_property
    def is_plain_contact(self) -> bool:
        """Whether it is one contact between two wires and nothing else: either wire may go on either side."""
        contacts = [e for e in self.inside if isinstance(e, Contact)]
        alone = all(isinstance(e, Contact | Control) for e in self.inside) and len(contacts) == 1
        wired = {mark for mark, terminal in self.terminals.items() if terminal.by == "wire"}
        return alone and len(wired) == 2 and {*contacts[0].join} == wired == {*self.terminals}

    @cached_property
    def battery_posts(self) -> tuple[str, ...]:
        """The posts of a battery, live one first; of any other part nothing, a generator among them."""
        sources = (e for e in self.inside if isinstance(e, Source) and not e.when)
        return tuple(post for source in sources for post in source.between)

    @model_validator(mode="after")
    def _names_are_unique(self) -> "Part":
        names: list[str] = [
            e.name for e in self.inside if isinstance(e, Control | Coil | Step | Cam | Flasher)
        ]
        for name in names:
            if names.count(name) > 1:
                raise ValueError(f"two variables are called {name!r}; names must differ within a part")
        for name in self.nodes:
            if name in self.terminals:
                raise ValueError(f"inner node {name!r} is also a terminal")
        return self

    def references(self) -> Any:
        """Yield ``(index, key, kind, name)`` for every name an element refers to.

        ``kind`` is ``node`` (a terminal or inner node), ``variable`` or ``load``.
        """
        for index, element in enumerate(self.inside):
            for key in ("between", "join", "supply"):
                for name in getattr(element, key, None) or ():
                    yield index, key, "node", name
            if isinstance(element, Stabiliser):
                yield index, "earth", "node", element.earth
            for name in getattr(element, "when", None) or ():
                yield index, "when", "variable", name
            if isinstance(element, Step):
                yield index, "stepped_by", "variable", element.stepped_by
            if isinstance(element, Cam):
                for name in element.turned_by:
                    yield index, "turned_by", "load", name
