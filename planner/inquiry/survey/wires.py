"""The wires of a loom while answers are taken into it, each end with its weight."""

from dataclasses import dataclass, field

from planner.model.loom import End, Known, Wire
from planner.model.survey_lines import Answer

# A wire that the pattern does not have, until somebody measures it.
USUAL_MM2, USUAL_METRES = 1.5, 1.0


@dataclass
class Wires:
    """Wires by their names; ends may be dressed, weighed, led elsewhere and dropped."""

    by_name: dict[str, Wire]
    measured: set[str] = field(default_factory=set)  # wires of which the whole conductor is known
    weights: dict[tuple[str, int], Known] = field(default_factory=dict)
    led: dict[tuple[str, int], str] = field(default_factory=dict)
    dropped: set[tuple[str, int]] = field(default_factory=set)
    seen: dict[tuple[str, int], str] = field(default_factory=dict)  # colours
    linked: set[str] = field(default_factory=set)  # wires that were followed from end to end

    def dress(self, name: str, end: int, answer: Answer) -> None:
        """Give the leg that reaches an end the colour, size and fitting that were seen there."""
        wire = self.by_name[name]
        if answer.colour is not None:
            self.seen[name, end] = answer.colour
        legs = len(wire.ends) - 1
        leg = max(0, end - 1)
        changes: dict[str, object] = {}
        for what, value in (("colour", answer.colour), ("mm2", answer.mm2)):
            if value is not None:
                values = list(getattr(wire, what))
                values = values * legs if len(values) == 1 else values
                values[leg] = value
                changes[what] = tuple(values) if len(set(values)) > 1 else (values[0],)
        if answer.fitting is not None:
            fitted = wire.ends[end].model_copy(update={"fitting": answer.fitting})
            changes["ends"] = (*wire.ends[:end], fitted, *wire.ends[end + 1 :])
        if answer.colour_said or answer.note:
            said = [text for text in (answer.colour_said, answer.note) if text]
            changes["note"] = "; ".join(dict.fromkeys((*(wire.note or "").split("; "), *said))).strip("; ")
        self.by_name[name] = wire.model_copy(update=changes)

    def weigh(self, name: str, end: int, known: Known) -> None:
        """Say how well it is known what sits at an end."""
        self.weights[name, end] = known

    def settle(self, name: str) -> None:
        """A reading told what the whole wire is."""
        self.measured.add(name)

    def unsettle_place(self, place: str) -> None:
        """What leads from a place is known no more."""
        prefix = f"{place}:"
        self.measured -= {
            name for name, wire in self.by_name.items() if any(e.at.startswith(prefix) for e in wire.ends)
        }

    def lead(self, name: str, end: int, far: str) -> None:
        """From an end the wire leads elsewhere than the pattern says."""
        self.led[name, end] = far

    def drop(self, name: str, end: int) -> None:
        """There is no wire at this end."""
        self.dropped.add((name, end))

    def add(self, near: str, far: str, answer: Answer) -> str:
        """A wire that the pattern does not have; its name."""
        name = self._new_name()
        ends = (End(at=near, fitting=answer.fitting), End(at=far))
        self.by_name[name] = Wire(
            wire=name,
            colour=(answer.colour or "BK",),
            mm2=(answer.mm2 or USUAL_MM2,),
            metres=(USUAL_METRES,),
            ends=ends,
            known="measured" if answer.reading else "seen",
            note="; ".join(t for t in (answer.colour_said, answer.note) if t) or None,
        )
        self.measured.add(name)
        return name

    def all(self) -> tuple[Wire, ...]:
        """The wires as they are now, in the pattern's order."""
        return tuple(made for wire in list(self.by_name.values()) for made in self._settled(wire))

    def _settled(self, wire: Wire) -> list[Wire]:
        apart = [n for n in range(len(wire.ends)) if (wire.wire, n) in (self.led.keys() | self.dropped)]
        if not apart:
            changes = len(wire.ends) == 2 and len(self._colours(wire)) == 2
            return self._joined(wire) if changes else [self._weighed(wire)]
        led = [n for n in apart if (wire.wire, n) in self.led]
        found = [self._led(wire, n, wire.wire if n == led[0] else f"{wire.wire}-{n}") for n in led]
        left = [n for n in range(len(wire.ends)) if n not in apart]
        if len(left) > 1 or (left and (wire.wire, left[0]) in self.weights):
            found.append(self._rest(wire, left))
        return found

    def _weighed(self, wire: Wire) -> Wire:
        if wire.known != "assumed":  # found beside the pattern
            return wire
        whole: Known = "measured" if wire.wire in self.measured else "assumed"
        ends = tuple(
            end.model_copy(update={"known": self.weights[wire.wire, n]})
            if whole == "assumed" and self.weights.get((wire.wire, n), "assumed") != "assumed"
            else end
            for n, end in enumerate(wire.ends)
        )
        return wire.model_copy(update={"known": whole, "ends": ends})

    def changing(self) -> list[str]:
        """The wires of which another colour was seen at either end."""
        return [
            name
            for name, wire in self.by_name.items()
            if len(wire.ends) == 2 and len(self._colours(wire)) == 2
        ]

    def colour_at(self, name: str, end: int) -> str:
        """The colour that was seen at an end."""
        return self.seen[name, end]

    def _colours(self, wire: Wire) -> set[str]:
        return {self.seen[wire.wire, n] for n in range(len(wire.ends)) if (wire.wire, n) in self.seen}

    def _joined(self, wire: Wire) -> list[Wire]:
        """Two wires with a joiner between, since the colour changes on the way."""
        known: Known = "measured" if wire.wire in self.linked else "assumed"
        joint = End(at=f"joint:{wire.wire}", known=known)
        return [
            wire.model_copy(
                update={
                    "wire": f"{wire.wire}{letter}",
                    "colour": (self.seen[wire.wire, end],),
                    "metres": (wire.metres[0] / 2,),
                    "ends": (wire.ends[end], joint),
                    "known": self.weights.get((wire.wire, end), "assumed"),
                    "bundle": None,
                }
            )
            for end, letter in ((0, "a"), (1, "b"))
        ]

    def _led(self, wire: Wire, end: int, name: str) -> Wire:
        leg = max(0, end - 1)
        far = self.led[wire.wire, end]
        return wire.model_copy(
            update={
                "wire": name,
                "colour": (self.seen.get((wire.wire, end), wire.leg_colour(leg)),),
                "mm2": (wire.leg_mm2(leg),),
                "metres": (wire.leg_metres(leg),),
                "ends": (wire.ends[end], End(at=far)),
                "known": "measured",
                "bundle": None,
            }
        )

    def _rest(self, wire: Wire, left: list[int]) -> Wire:
        """What is left of a wire whose other ends lead elsewhere, or are not there."""
        legs = [max(0, n - 1) for n in left[1:]] or [max(0, left[0] - 1)]
        ends = [
            wire.ends[n].model_copy(update={"known": self.weights.get((wire.wire, n), "assumed")})
            for n in left
        ]
        colours = [wire.leg_colour(leg) for leg in legs]
        if len(ends) == 1:
            ends.append(End(at="unknown", known="assumed"))
            colours = [self.seen.get((wire.wire, left[0]), colours[0])]
        return wire.model_copy(
            update={
                "wire": f"{wire.wire}-rest",
                "colour": tuple(colours),
                "mm2": tuple(wire.leg_mm2(leg) for leg in legs),
                "metres": tuple(wire.leg_metres(leg) for leg in legs),
                "ends": tuple(ends),
                "known": "assumed",
                "bundle": None,
            }
        )

    def _new_name(self) -> str:
        number = 1
        while f"X{number}" in self.by_name:
            number += 1
        return f"X{number}"
