"""A terminal called + or - that gets the other pole: said at the step if its part works either way round."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.loom import split_address
from planner.model.polarity import polarity_of
from planner.model.wording import mark_words
from planner.workshop.ends.arrivals import arrivals
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task

_LIVE = ("always-live", "ignition-live", "switched-live")
_RETURN = ("earth", "switched-earth")


def marked_plus(names: Names, task: Task) -> Iterator[str]:
    """Yield that a mark is but a name here: on a plus-earthed vehicle every feed is minus."""
    is_minus_earthed = names.after.supply.earthed == "negative"
    for to, conductor in arrivals(names, task):
        place, mark = split_address(to)
        fitted = names.after.places.get(place)
        if fitted is None or mark not in "+-":
            continue
        nature = names.facts.at(conductor).nature
        if (
            nature not in (*_LIVE, *_RETURN)
            or polarity_of(names.catalogue.parts[fitted.part]) != "indifferent"
        ):
            continue
        if (mark == "+") != ((nature in _LIVE) == is_minus_earthed):
            pole = tr("minus") if mark == "+" else tr("plus")
            yield tr(
                "{mark} is only its name here, and what goes on it is {pole}: this part works either way "
                "round",
                mark=mark_words(mark),
                pole=pole,
            )
