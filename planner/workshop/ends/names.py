"""What the steps of one work call a wire, a place, an end: new wires by number, each with its colour."""

from collections.abc import Mapping, Sequence
from functools import cached_property
from itertools import count
from typing import Any

from planner.messages import tr
from planner.model.catalogue import Catalogue
from planner.model.delta import Add, Insert
from planner.model.facts import Facts
from planner.model.loom import Loom, Wire, split_address
from planner.model.measures import size_words
from planner.model.wording import address_words, colour_words, fitting_words, mark_words
from planner.workshop.tasks.joiners import Joiner, leads_joined, new_joiners
from planner.workshop.tasks.posts import earthed_posts
from planner.workshop.tasks.task import Task, puts_on, takes_off
from planner.workshop.tasks.tasks import Work
from planner.workshop.tasks.unfused import live_without_fuse, switched_without_fuse

NEW_WIRE = "N"


class Names:
    """The names of one work; new wires are numbered in the order in which they are made."""

    def __init__(
        self,
        work: Work,
        ordered: Sequence[Task],
        catalogue: Catalogue,
        facts: Facts,
        amps: Mapping[tuple[str, int], float],
        over_wires: Mapping[str, float | None] = {},
    ) -> None:
        self.before, self.after, self.catalogue = work.before, work.after, catalogue
        self.facts = facts  # what each conductor was before
        self.amps = amps  # the most that each leg of a wire carries after, where that was worked out
        # The fuses that let more through than a wire behind them stands, and one that would do, in A, if any.
        self.over_wires = over_wires
        self.work, self.ordered = work, tuple(ordered)
        self._numbers = {id(task): n for n, task in enumerate(ordered, 1)}
        free = (name for n in count(1) if (name := f"{NEW_WIRE}{n}") not in work.before.wire_index)
        made = dict.fromkeys(
            o.wire.wire if isinstance(o, Add) else o.lead.wire
            for o in (task.operation for task in ordered)
            if isinstance(o, Add | Insert)
        )
        self.new_wires: Mapping[str, str] = dict(zip(made, free, strict=False))

    @cached_property
    def earthed_posts(self) -> frozenset[str]:
        """The earthed posts of the batteries, by their addresses."""
        return earthed_posts(self.after, self.catalogue.parts)

    @cached_property
    def unfused(self) -> frozenset[str]:
        """The addresses that are always live without a fuse when all is done."""
        return live_without_fuse(self.after, self.catalogue.parts)

    @cached_property
    def unfused_switched(self) -> frozenset[str]:
        """Those as well that are live without a fuse while a switch or a relay is on."""
        return switched_without_fuse(self.after, self.catalogue)

    def wire(self, name: str) -> Wire:
        """The wire of that id, as it is in the end."""
        loom = self.after if name in self.after.wire_index else self.before
        return loom.find(name)

    def shown(self, wire: str) -> str:
        """What people call a wire."""
        return self.new_wires.get(wire, wire)

    def seen(self, wire: str, end: int) -> dict[str, Any]:
        """What the fields of a step say of a wire: colour, size and length of the leg at one end."""
        record = self.wire(wire)
        end = min(end, len(record.ends) - 1)
        leg = max(0, end - 1)
        return {
            "colour": record.end_colour(end),
            "mm2": record.end_mm2(end),
            "metres": record.leg_metres(leg),
        }

    def carries(self, wire: str, end: int) -> tuple[float, float]:
        """The most that an end of a wire carries when all is done, in A, then its size in mm2."""
        record = self.wire(wire)
        most = max((self.amps.get((wire, leg), 0.0) for leg in record.legs_at(end)), default=0.0)
        return most, record.end_mm2(end)

    def usual_end(self, address: str, loom: Loom | None = None) -> str | None:
        """The fitting of a new end at an address of a loom, that after the work, if the terminal is known."""
        place, mark = split_address(address)
        fitted = (loom or self.after).places.get(place)
        terminal = self.catalogue.parts[fitted.part].terminals.get(mark) if fitted else None
        return terminal.usual_end if terminal else None

    @cached_property
    def joiners(self) -> Mapping[str, Joiner]:
        """The joiners that the work makes, by their addresses."""
        return new_joiners(self.work, self.ordered)

    @cached_property
    def leads_joined(self) -> Mapping[int, tuple[str, ...]]:
        """The leads of parts to which a step first joins an end, by the step's number."""
        return leads_joined(self.work, self.ordered, self.catalogue.parts)

    def is_own_lead(self, address: str) -> bool:
        """Whether an address is a lead of a part to which the work joins an end."""
        return any(address in leads for leads in self.leads_joined.values())

    def number(self, task: Task) -> int:
        """The step that a task is."""
        return self._numbers[id(task)]

    def off_since(self, wire: str, end: int, was: str, task: Task) -> int | None:
        """The step before a task that takes an end off where it was; None if it is on until then."""
        before = enumerate(self.ordered[: self.number(task) - 1], 1)
        return next((n for n, other in before if takes_off(other, wire, end, was)), None)

    def goes_on_in(self, wire: str, end: int) -> int | None:
        """The step in which an end of an old wire goes on, into a joiner, or on a part in line."""
        return next((n for n, task in enumerate(self.ordered, 1) if puts_on(task, wire, end)), None)

    def named(self, wire: str, end: int) -> str:
        """A wire as people point at it: ``the orange wire (W1)``."""
        record = self.wire(wire)
        colour = colour_words(record.end_colour(min(end, len(record.ends) - 1)))
        return tr("the {colour} wire ({name})", colour=colour, name=self.shown(wire))

    def at(self, address: str) -> str:
        """An address as people say it; what is gone is named as it was."""
        is_there = split_address(address)[0] in self.after.places or address in self.after.ends_at
        return address_words(self.after if is_there else self.before, address, self.shown)

    def was_at(self, address: str) -> str:
        """An address before the work as people said it then: ``F on the dynamo``."""
        place = split_address(address)[0]
        return address_words(self.before, address) if place in self.before.places else self.at(address)

    def is_called_alike(self, place: str) -> bool:
        """Whether a place keeps its name: that of a dynamo may become the alternator's."""
        return self.before.place_title(place) == self.after.place_title(place)

    def size(self, mm2: float) -> str:
        """A cross-section in mm2 and as a gauge."""
        return size_words(mm2, self.catalogue.standards.gauges)

    def title(self, place: str) -> str:
        """What people call a place."""
        return self.work.places.title(place)

    def staying(self, place: str) -> tuple[str, ...]:
        """The ends that go on the same mark as before, each with its colour."""
        return tuple(
            tr(
                "{colour} ({wire}) on {mark}",
                colour=colour_words(self.after.find(wire).end_colour(number)),
                wire=wire,
                mark=mark_words(mark),
            )
            for wire, number, mark in self.after.ends_of_place(place)
            if self.before.end_address(wire, number) == f"{place}:{mark}"
            and (wire, number) not in self.work.anew
        )


def end_words(fitting: str | None) -> str:
    """The end of a new wire as people say it."""
    return fitting_words(fitting) if fitting else tr("an end to suit")
