"""What makes a description doubtful as a whole, until somebody has looked."""

from collections.abc import Mapping

from pydantic import Field

from planner.model.elements import Record


class Doubt(Record):
    """A question about a description itself: a plan asks it first, and says "measure" as long as it stands.

    It is settled by taking it out of the loom's file, or by reading a survey's table again.
    """

    about: str = Field(min_length=1)
    where: str = Field(min_length=1, description="where to look, or where the meter goes")
    how: str = Field(min_length=1, description="what is switched on or off meanwhile")
    answers: Mapping[str, str] = Field(default_factory=dict, description="what is found: what it means")
    source: str = "common practice, no source"
