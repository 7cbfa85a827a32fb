"""How a test is said: what to set, where the tips go, and what it is for."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.circuit.network import Network
from planner.currents.grid import BODY
from planner.messages import tr
from planner.model.joiners import BARE
from planner.model.loom import split_address
from planner.model.part import Part
from planner.model.reach import conductor
from planner.model.wording import body_words
from planner.proof.facts import LASTING, place_titles, short_titles
from planner.testing.mistakes.mistake import Mistake
from planner.testing.page.joiners import joiner_between, wires_through
from planner.testing.page.levels import Levels
from planner.testing.page.notes import TRAILER_SOCKET
from planner.testing.page.probes import Probe
from planner.testing.page.setups import BY_ITSELF, Setup
from planner.testing.wired import Wired

AT_REST = frozenset({"off", "released", "shut", "at rest", "rest"})  # the page says it once for all tests
NO_VOLTS = 0.3  # less than this is what the current of others drops on the way to earth


_PRESSED = "pressed"  # what catalogues call a button that is held in


@dataclass(frozen=True)
class Wording:
    """Knows what a vehicle's controls and terminals are called."""

    wired: Wired
    net: Network
    parts: Mapping[str, Part]

    @cached_property
    def _levels(self) -> frozenset[str]:
        return frozenset(Levels(self.wired.loom, self.parts).ends)

    def level(self, name: str, value: str) -> str:
        """How full a tank is, in words."""
        return self._set(name, value)

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
        if leads:  # after so much else nobody knows which gear was in
            was = {}
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
        """What has to be put back after the last test: wires, and what nobody holds any more."""
        leads = [*self._leads(last.lead_off if last else "", "")]
        kept = {} if last is None else {n: v for n, v in last.moved.items() if not self._is_held(n, v)}
        back = [
            self._set(name, self._rest(name), is_back=True)
            for name in kept
            if self._rest(name) not in BY_ITSELF and not (leads and "/" in name)
        ]
        return "; ".join((*leads, *back))

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

    def ends_words(self, mistake: Mistake) -> Iterator[str]:
        """Yield where each end belongs that a mistake moves."""
        for wire, end, _ in mistake.changes[0].ends:
            at = self.wired.loom.find(wire).ends[end].at
            yield tr("{wire} is on {at}", wire=self.wired.wire(wire, end), at=self.wired.at(at))

    def _wires_on(self, address: str) -> str:
        ends = self.wired.loom.ends_at.get(address, ())
        return tr(" and ").join(self.wired.wire(*end) for end in ends)

    def _is_held(self, name: str, value: str) -> bool:
        return value in self.net.variables[name].sprung

    def _rest(self, name: str) -> str:
        return self.net.variables[name].values[0]

    def _said(self, name: str, value: str = "") -> str:
        """A position with what it means; that of rest if none is named."""
        variable, value = self.net.variables[name], value or self._rest(name)
        meaning = variable.meanings[variable.values.index(value)]
        return value if meaning == value else f"{value} ({meaning})"

    def _set(self, name: str, value: str, *, is_back: bool = False) -> str:
        said = self._said(name, value)
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

    def where(self, probe: Probe, expected: float, hangs_on: Sequence[str], plus: str = "") -> str:
        """Where the tips go, and what the reading hangs on though nobody set it: closed points."""
        shows = self._shows_by(probe) if probe.setup is not None and abs(expected) < NO_VOLTS else ()
        tips, stands = (
            self._tips(probe, plus),
            tr(" and ").join(self._stands(dict.fromkeys((*hangs_on, *shows)), probe.setup)),
        )
        return tr("{tips}, with {stands}", tips=tips, stands=stands) if stands else tips

    @property
    def unset(self) -> tuple[str, ...]:
        """The variables of which a test says how they stand, if it hangs on them; the page says the rest."""
        return tuple(
            name
            for name in self.net.controls
            if name not in self._levels and self._rest(name) not in AT_REST | BY_ITSELF
        )

    def _shows_by(self, probe: Probe) -> Iterator[str]:
        """Yield the switches at a tip that reads nothing: set otherwise, it does so whatever is wrong."""
        told = probe.setup.moved if probe.setup else {}
        ends = {end for tip in (probe.at, probe.to) if tip != BODY for end in conductor(self.wired.loom, tip)}
        for name in self.unset:
            ties = (tie for tie in self.net.ties if name in dict(tie.guard))
            if "/" in name and name not in told and any({tie.a, tie.b} & ends for tie in ties):
                yield name

    def _stands(self, hangs_on: Iterable[str], setup: Setup | None) -> Iterator[str]:
        """Yield how what a reading hangs on has to stand; a motor that is fed runs home by itself."""
        shorts = short_titles(self.wired.loom)
        for name in hangs_on:
            kind, (place, _, own) = self.net.variables[name].kind, name.rpartition("/")
            if kind in LASTING and setup:
                title, value = shorts.get(place, place), setup.position[name]
                if kind == "cam":
                    yield tr("the {place} run home ({own} {value})", place=title, own=own, value=value)
                else:
                    yield tr("the {place} stepped to {value}", place=title, value=value)
            elif "/" in name:
                yield tr("{control} set to {value}", control=self.titles()[name], value=self._said(name))
            else:
                yield self._set(name, self._rest(name))

    def _tips(self, probe: Probe, plus: str) -> str:
        """Where the tips go; ``plus`` is the point for the plus of an ohmmeter, where that matters."""
        positive = self.wired.loom.supply.earthed == "positive" and probe.setup is not None
        to = body_words(self.wired.loom) if probe.to == BODY else self._point(probe.to)
        at = self._point(probe.at)
        if probe.setup is not None and probe.setup.lead_off == probe.at:
            at = tr("the end of {wires}", wires=self._wires_on(probe.at))
        if probe.setup is None and plus:
            ends = {"at": at, "to": to} if plus == probe.at else {"at": to, "to": at}
            return tr("the meter's plus on {at}, its minus on {to}, so that diodes and LEDs block", **ends)
        if probe.setup is None:
            return tr("one tip on {at}, the other on {to}", at=at, to=to)
        if positive:
            return tr("black tip on {at}, red tip on {to}", at=at, to=to)
        return tr("red tip on {at}, black tip on {to}", at=at, to=to)

    def _point(self, address: str) -> str:
        """Where a tip goes; a joiner beside no part is found by its wires, a lead of a part by its joiner."""
        place, mark = split_address(address)
        at = self.wired.at(address)
        if place == "joint" and not mark.rpartition(".")[0]:
            names = dict.fromkeys(wire for wire, _ in self.wired.loom.ends_at.get(address, ()))
            wires = [self.wired.shown.get(name, name) for name in names]
            return tr("{joiner} (where {wires} meet)", joiner=at, wires=", ".join(wires))
        fitted = self.wired.loom.places.get(place)
        terminal = self.parts[fitted.part].terminals.get(mark) if fitted else None
        if fitted and self.parts[fitted.part].family == TRAILER_SOCKET:
            return tr("{terminal} (its wiring side)", terminal=at)
        if terminal and terminal.fitting == BARE and terminal.by == "wire":
            return tr("{lead} (a lead: in its joiner)", lead=at)
        return at

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
        joiner = joiner_between(self.wired, probe.at, probe.to)
        if joiner:
            return tr(
                "{wires} must be on at both ends: no other way joins the two but {joiner}, which is closed",
                wires=tr(" and ").join(wires_through(self.wired, joiner, {probe.at, probe.to})),
                joiner=self.wired.at(joiner),
            )
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
