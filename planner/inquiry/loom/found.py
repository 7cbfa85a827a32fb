"""A loom as it is found, with everything computed of it once: the circuit, and what each conductor is."""

from functools import cached_property

from planner.circuit.compile import Compiled
from planner.circuit.store import Store
from planner.circuit.tree import Projector
from planner.model.catalogue import Catalogue
from planner.model.facts import Facts
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.wording import address_words, mark_words
from planner.proof.align import Alignment
from planner.proof.behaviour import View
from planner.proof.compare import Comparison
from planner.proof.facts import conductor_facts, short_titles
from planner.proof.hazards import loose_nodes
from planner.proof.report import Reporter


class FoundLoom:
    """One loom; raises TooLargeError if its circuit has more positions than can be looked at."""

    def __init__(self, loom: Loom, catalogue: Catalogue) -> None:
        self.loom, self.catalogue = loom, catalogue
        self._compiled = Compiled()
        store = Store(loom.supply.live_volts, by_class=True)
        self.view = View(loom, catalogue, store, Projector(), loose_nodes(loom), self._compiled)
        numbers = self.view.variable_number
        self.alignment = Alignment(self.view.net, self.view.net, numbers, numbers)
        # Compared with itself: so its positions are walked through and worded as those of a proof are.
        self.comparison = Comparison(self.view, self.view, self.alignment)
        self.reporter = Reporter(loom, loom, (self.view.net, self.view.net))

    @cached_property
    def facts(self) -> Facts:
        """What each conductor is."""
        return conductor_facts(self.loom, self.catalogue, self._compiled)

    @cached_property
    def titles(self) -> dict[str, str]:
        """What people call each place, as short as it stays unique."""
        return short_titles(self.loom)

    def address(self, address: str) -> str:
        """An address in words, with the short title of its place."""
        place, mark = split_address(address)
        if place in self.titles and mark:
            return f"{mark_words(mark)} on the {self.titles[place]}"
        return address_words(self.loom, address)

    def part(self, place: str) -> Part:
        """The part at a place."""
        return self.catalogue.parts[self.loom.places[place].part]
