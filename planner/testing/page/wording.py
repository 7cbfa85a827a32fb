"""How a test is said: what to set, where the tips go, and what it is for."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.circuit.network import Network
from planner.currents.grid import BODY
from planner.messages import tr
from planner.model.elements import Contact, Sender, Source
from planner.model.loom import split_address
from planner.model.part import Part
from planner.model.reach import conductor
from planner.model.wording import body_words
from planner.proof.facts import place_titles, short_titles
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup
from planner.testing.wired import Wired

AT_REST = frozenset({"off", "released", "shut", "at rest", "rest"})  # the page says it once for all tests
NO_OHMS = 1.0  # less is a wire, whatever else hangs on its ends
NO_VOLTS = 0.3  # less than this is what the current of others drops on the way to earth


_PRESSED = "pressed"  # what catalogues call a button that is held in


@dataclass(frozen=True)
class Wording:
    """Knows what a vehicle's controls and terminals are called."""

    wired: Wired
    net: Network
    parts: Mapping[str, Part]

    def titles(self) -> dict[str, str]:
        """What each variable is called."""
        return place_titles(self.wired.loom, self.net)

    def set_words(self, before: Setup | None, setup: Setup) -> str:
        """What must be changed since the setup before; with none before, since everything was at rest.

        What is held is told last, and again: nobody holds a key at start while moving something else.
        """
        was = before.moved if before else {}
        leads = [*self._leads(before.lead_off if before else "", setup.lead_off)]
        if leads:  # every switch goes off with the battery, so it is set anew
            was = {name: value for name, value in was.items() if "/" not in name}
        back = [self._set(name, self._rest(name), is_back=True) for name in was if name not in setup.moved]
        new = [self._set(n, value) for n, value in setup.moved.items() if was.get(n) != value]
        known = before.remembered if before else {}
        shorts = short_titles(self.wired.loom)
        new += [
            tr(
                "step the {place} on until it is at {value}",
                place=shorts.get(split_place(name), name),
                value=value,
            )
            for name, value in setup.remembered.items()
            if known.get(name) != value
        ]
        held = [self._set(n, value) for n, value in setup.moved.items() if self._is_held(n, value)]
        changed = [*back, *leads, *(words for words in new if words not in held)]
        is_held_anew = any(words in held for words in new)
        return "; ".join((*changed, *(held if changed or is_held_anew else ())))

    def after_words(self, last: Setup | None) -> str:
        """What has to be put back after the last test, besides the controls."""
        return "; ".join(self._leads(last.lead_off if last else "", ""))

    def _leads(self, was: str, now: str) -> Iterator[str]:
        """Yield wires that go back on a terminal, and those that come off: neither with the battery on."""
        if was == now:
            return
        yield tr("every switch off, battery off")
        if was:
            yield tr("{wires} back on {at}", wires=self._wires_on(was), at=self.wired.at(was))
        if now:
            on, at = self._wires_on(now), self.wired.at(now)
            yield tr("take {wires} off {at}, and let its end touch nothing", wires=on, at=at)
        yield tr("battery on")

    def _wires_on(self, address: str) -> str:
        ends = self.wired.loom.ends_at.get(address, ())
        return tr(" and ").join(self.wired.wire(*end) for end in ends)

    def _is_held(self, name: str, value: str) -> bool:
        return value in self.net.variables[name].sprung

    def _rest(self, name: str) -> str:
        return self.net.variables[name].values[0]

    def _set(self, name: str, value: str, *, is_back: bool = False) -> str:
        variable = self.net.variables[name]
        meaning = variable.meanings[variable.values.index(value)]
        said = value if meaning == value else f"{value} ({meaning})"
        title = self.titles()[name]
        if "/" not in name:
            return tr("{name} {value}", name=title, value=said)
        if self._is_held(name, value):
            if value == _PRESSED:
                return tr("press {control} and hold it", control=title)
            return tr("hold {control} at {value}", control=title, value=said)
        if is_back:
            return tr("{control} back to {value}", control=title, value=said)
        return tr("{control} to {value}", control=title, value=said)

    def where(self, probe: Probe, expected: float) -> str:
        """Where the tips go, and what nobody sets and the reading hangs on: a full tank, closed points."""
        is_a_wire = probe.setup is None and probe.to != BODY and expected < NO_OHMS
        tips, stands = self._tips(probe), "" if is_a_wire else tr(" and ").join(self._stands(probe))
        return tr("{tips}, with {stands}", tips=tips, stands=stands) if stands else tips

    def _stands(self, probe: Probe) -> Iterator[str]:
        """Yield how the conditions stand that work what a tip is on, unless the test or the page says so."""
        loom, told = self.wired.loom, probe.setup.moved if probe.setup else {}
        tips = [conductor(loom, tip) for tip in (probe.at, probe.to) if tip != BODY]
        ends = [end for tip in tips if not any(self._is_pole(end) for end in tip) for end in tip]
        for name in loom.conditions:
            said = name in told or self._rest(name) in AT_REST
            if not said and any(self._works(name, *split_address(end)) for end in ends):
                yield self._set(name, self._rest(name))
        for name in self.net.controls:
            said = name in told or self._rest(name) in AT_REST
            if not said and "/" in name and self._joins(name, frozenset(ends)):
                yield tr("{control} set to {value}", control=self.titles()[name], value=self._rest(name))

    def _joins(self, control: str, ends: frozenset[str]) -> bool:
        """Whether a control works a contact on one of some addresses."""
        return any(
            control in dict(tie.guard) and not ends.isdisjoint((tie.a, tie.b)) for tie in self.net.ties
        )

    def _is_pole(self, address: str) -> bool:
        """Whether an address is the body, bolted to it, or on a battery: what returns there is not read."""
        place, mark = split_address(address)
        fitted = self.wired.loom.places.get(place)
        if fitted is None:
            return place == BODY
        part = self.parts[fitted.part]
        terminal = part.terminals.get(mark)
        is_bolted = terminal is not None and terminal.by == "mounting" and fitted.mounting == "metal"
        return is_bolted or any(isinstance(element, Source) for element in part.inside)

    def _works(self, condition: str, place: str, mark: str) -> bool:
        """Whether a condition works something inside a part that one of its terminals is on."""
        fitted = self.wired.loom.places.get(place)
        for element in self.parts[fitted.part].inside if fitted else ():
            if isinstance(element, Sender) and element.follows == condition and mark in element.between:
                return True
            if isinstance(element, Contact) and condition in element.when and mark in element.join:
                return True
        return False

    def _tips(self, probe: Probe) -> str:
        """Where the tips go."""
        positive = self.wired.loom.supply.earthed == "positive" and probe.setup is not None
        to = body_words(self.wired.loom) if probe.to == BODY else self.wired.at(probe.to)
        at = self.wired.at(probe.at)
        if probe.setup is not None and probe.setup.lead_off == probe.at:
            at = tr("the end of {wires}", wires=self._wires_on(probe.at))
        if probe.setup is None:
            return tr("one tip on {at}, the other on {to}", at=at, to=to)
        if positive:
            return tr("black tip on {at}, red tip on {to}", at=at, to=to)
        return tr("red tip on {at}, black tip on {to}", at=at, to=to)

    def why(self, probe: Probe, expected: float) -> str:
        """What a test is for."""
        if probe.why:
            return probe.why
        if probe.about is not None:
            return f"'{probe.about[1]}' ({self.wired.title_of(probe.about[0])})"
        wires = [*self._between(probe.at, probe.to)]
        if wires:
            named = tr(" and ").join(dict.fromkeys(wires))
            return tr("{wires} must be on at both ends: no other wire joins the two", wires=named)
        if probe.setup is None:
            return tr("what hangs on {at}, and nothing else", at=self.wired.at(probe.at))
        if abs(expected) < NO_VOLTS:
            return tr("nothing may arrive at {at}", at=self.wired.at(probe.at))
        return tr("what arrives at {at}", at=self.wired.at(probe.at))

    def _between(self, at: str, to: str) -> Iterator[str]:
        for wire in self.wired.loom.wires:
            for leg in range(len(wire.ends) - 1):
                ends = [wire.ends[leg].at, wire.ends[leg + 1].at]
                heads = [BODY if split_address(end)[0] == BODY else end for end in ends]
                if {at, to} == set(heads):
                    yield self.wired.wire(wire.wire, leg + 1)


def split_place(variable: str) -> str:
    """The place of a variable."""
    return variable.rpartition("/")[0]


def moved_apart(one: Mapping[str, str], other: Mapping[str, str]) -> int:
    """How many switches are moved from one setting to another."""
    return sum(one.get(name) != other.get(name) for name in {*one, *other})
