"""A survey made ready: the pattern cut down, its lines, and how each is measured."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.inquiry.survey.cutting import Template, cut_out
from planner.inquiry.survey.lines import asked_lines
from planner.inquiry.survey.measuring import Measuring, measuring
from planner.inquiry.survey.supplied import with_supply
from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.loom import Loom, Supply
from planner.model.survey_lines import Asked


@dataclass(frozen=True)
class Survey:
    """Everything that is asked about one swap; ``name`` is what the swap is called."""

    name: str
    shipped: Job
    pattern: Loom  # of the shipped job, at its own supply
    template: Template
    asked: tuple[Asked, ...]
    titles: Mapping[str, str]  # of each place asked about, no two alike
    measurings: Mapping[tuple[str, str, int], Measuring]

    @property
    def job(self) -> Job:
        """The job as the person's own."""
        return self.template.job

    @property
    def loom(self) -> Loom:
        """The loom as the pattern has it."""
        return self.template.loom

    def is_in_hand(self, place: str) -> bool:
        """Whether a part comes out or goes in there."""
        return any(swap.at == place for swap in self.job.swaps)


def prepare(job: Job, loom: Loom, catalogue: Catalogue, supply: Supply | None = None) -> Survey:
    """Make the survey of a job ready, its loom as the pattern; with a supply, for a vehicle that has it.

    Raises UsageError if the pattern cannot be had with that supply.
    """
    template = cut_out(job, with_supply(job, loom, supply or loom.supply, catalogue), catalogue)
    asked = asked_lines(template, catalogue)
    titles = _titles(template, asked)
    in_hand = [swap.at for swap in template.job.swaps]
    measurings = {line.key: measuring(line, template.loom, in_hand) for line in asked}
    return Survey(job.job, job, loom, template, asked, titles, measurings)


def _titles(template: Template, asked: tuple[Asked, ...]) -> dict[str, str]:
    """What people call each place; its own name where two are called alike."""
    new = {swap.at: swap.title for swap in template.job.swaps if swap.title}
    places = [*(swap.at for swap in template.job.swaps), *(line.place for line in asked)]
    called = {
        place: template.loom.place_title(place) if place in template.loom.places else new.get(place, place)
        for place in dict.fromkeys(places)
    }
    said = list(called.values())
    return {place: title if said.count(title) == 1 else place for place, title in called.items()}
