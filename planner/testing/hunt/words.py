"""What was seen, what is to be read and what it may bring, in words for a person at the vehicle."""

from collections.abc import Sequence

from planner.model.loom import split_address
from planner.model.observations import BODY, OPEN_OHMS, Observation, ObservationKind, Settings
from planner.model.wording import body_words
from planner.testing.hunt.vehicle import Vehicle


class Words:
    """Puts readings on one vehicle into words."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle, self.wired = vehicle, vehicle.wired

    def at(self, address: str) -> str:
        """An address, with the colours of the wires on it; an empty one is the battery's earthed post."""
        if not address:
            return self.earth
        head, _ = split_address(address)
        said = self.wired.at(address)
        ends = self.wired.loom.ends_at.get(address, ())
        if head == "earth" or not ends:
            return said
        colours = [self.wired.wire(*end).removeprefix("the ") for end in ends[:3]]
        return f"{said}, with the {' and the '.join(colours)}"

    @property
    def earth(self) -> str:
        """Where the black lead goes if nothing else is said."""
        zero = self.vehicle.grid.zero
        return body_words(self.wired.loom) if zero == "earth" else "the battery's earthed post"

    @property
    def dead_earth(self) -> str:
        """The same with the battery off: its earthed lead, for no tip goes on the battery itself then."""
        is_body = self.vehicle.grid.zero == "earth"
        return self.earth if is_body else "the battery's earthed lead"

    def _tip(self, to: str, *, is_off: bool = False) -> str:
        """Where the black lead goes."""
        earth = self.dead_earth if is_off else self.earth
        return body_words(self.wired.loom) if to == BODY else self.wired.at(to) if to else earth

    def load(self, at: str) -> str:
        """A load as people say it: ``main beam (left headlamp)``."""
        place, _, does = at.partition("/")
        return f"{does} ({self.wired.title_of(place)})"

    def setting(self, settings: Settings) -> str:
        """How the controls are set; what is not named is at rest."""
        said = []
        for name, label in settings:
            place, slash, control = name.partition("/")
            variable = self.vehicle.net.variables[name]
            meaning = variable.meanings[variable.values.index(label)]
            title = self.wired.title_of(place) if slash else name
            what = title if not slash or control in title else f"{control}, {title}"
            said.append(f"{what}: {meaning}")
        return "; ".join(said) or "everything off and at rest"

    def seen(self, observation: Observation) -> str:
        """An observation in one line."""
        says, at = observation.says, observation.at
        to = f" and {self._tip(observation.to)}" if observation.to else ""
        when = f" - {self.setting(observation.settings)}" if observation.kind != "ohms" else ""
        if observation.kind == "looks":
            shown = self.look(at, says) if isinstance(says, str) else f"reads {says:g} %"
            return f"{self.load(at)}: {shown}{when}"
        if observation.kind == "volts":
            where = f"between {self.wired.at(at)}{to}" if to else f"at {self.wired.at(at)}"
            return f"{float(says) + 0.0:g} V {where}{when}"
        if observation.kind == "ohms":
            between = f"{self.wired.at(at)}{to or f' and {self.dead_earth}'}"
            return f"{ohms_words(float(says))} between {between}, {_off(observation.has_fuses_out)}"
        if observation.kind == "sits":
            wire, _, number = at.rpartition(".")
            where = "hangs loose" if says == "loose" else f"is on {self.wired.at(str(says))}"
            return f"{self.wired.wire(wire, int(number))} {where}"
        if observation.kind == "lamp":
            if observation.has_fuses_out:
                tip = to or f" and {self.dead_earth}"
                own = f"{says} between {self.wired.at(at)}{tip}, {_off(has_fuses_out=True)}"
                return f"test lamp on its own battery {own}"
            return f"test lamp {says} at {self.wired.at(at)}{to}{when}"
        if observation.kind == "fuse":
            return f"the fuse of {self.wired.at(at)} is {'blown' if says == 'yes' else 'sound'}{when}"
        return f"{self.wired.wire(at)} {'gets warm' if says == 'yes' else 'stays cold'}{when}"

    def look(self, at: str, look: str) -> str:
        """How a load looks: of a gauge, where its needle is."""
        said = NEEDLE_SAID if self._is_gauge(at) else LOOK_SAID
        return said.get(look, look)

    def _is_gauge(self, at: str) -> bool:
        place, _, does = at.partition("/")
        return self.vehicle.net.loads[place, does].kind == "gauge"

    def _look(self, at: str) -> str:
        """How to ask how a load looks: a lamp is looked at, of a motor or a horn it is asked what it does."""
        place, _, does = at.partition("/")
        if self._is_gauge(at):
            return (
                f"Look at the {self.load(at)}: does it read as it should, too low, too high, or not at all?"
            )
        if self.vehicle.net.loads[place, does].kind in LOOKED_AT:
            return f"Look at the {self.load(at)}: how does it look?"
        return f"See what the {self.wired.title_of(place)} does ({does}): how does it work?"

    def question(self, kind: ObservationKind, at: str, to: str, *, has_fuses_out: bool = False) -> str:
        """What to do for a reading."""
        if kind == "looks":
            return self._look(at)
        if kind == "sits":
            wire, _, number = at.rpartition(".")
            should = self.wired.loom.find(wire).ends[int(number)].at
            return f"Look: is {self.wired.wire(wire, int(number))} on {self.wired.at(should)}?"
        if kind == "fuse":
            return f"Look: is the fuse of {self.wired.at(at)} blown?"
        if kind == "warm":
            return f"Feel along {self.wired.wire(at)}, carefully: is it warm?"
        if kind == "lamp":
            return f"Test lamp on {self.at(at)}, its clip on {self._tip(to)}: lit, dim or dark?"
        if kind == "ohms":
            return (
                f"{_off(has_fuses_out).capitalize()}. "
                f"Ohms between {self.at(at)}, and {self._tip(to, is_off=True)}: what does the meter read?"
            )
        return f"Volts at {self.at(at)}; black lead on {self._tip(to)}."


def one_of(vehicle: Vehicle, suspects: Sequence[tuple[int, ...]]) -> str:
    """Some suspects in words, each by its mistakes; what all of them have in common is said once."""
    common = tuple(n for n in suspects[0] if all(n in each for each in suspects)) if len(suspects) > 1 else ()
    if not common:
        return "; or ".join(map(vehicle.mistake_words, suspects))
    rest = [tuple(n for n in each if n not in common) for each in suspects]
    besides = [vehicle.mistake_words(each) if each else "nothing else" for each in rest]
    return f"{vehicle.mistake_words(common)}; and besides: {'; or '.join(besides)}"


def _off(has_fuses_out: bool) -> str:
    return "battery off, fuses out" if has_fuses_out else "battery off"


LOOKED_AT = ("lamp", "led")  # kinds of loads that are seen; others move, warm or sound
NEEDLE_SAID = {
    "off": "does not move",
    "dim": "reads too low",
    "full": "reads as it should",
    "over": "reads too high",
}
LOOK_SAID = {"full": "works fully", "over": "too bright"}


def ohms_words(ohms: float) -> str:
    """Ohms as a meter shows them."""
    if ohms >= OPEN_OHMS:
        return "open"
    return (
        f"{ohms / 1000:.1f} kohm" if ohms >= 1000 else f"{ohms:.1f} ohm" if ohms < 100 else f"{ohms:.0f} ohm"
    )
