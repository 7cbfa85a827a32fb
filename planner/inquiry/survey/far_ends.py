"""Where a wire leads by what the meter says of it: to a feed, earth or a terminal, or nobody knows where."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from planner.model.elements import Position, When
from planner.model.loom import Feed, Loom, split_address
from planner.model.names import variables_of
from planner.model.part import Part
from planner.model.survey_lines import ALWAYS, IGNITION, LIGHTS, Asked, MeterReading
from planner.proof.facts import RUN_MEANINGS

_ROLES = {ALWAYS: "30", IGNITION: "15", LIGHTS: "58"}
# What a loom may call the variable that an answer names, and the usual one if it has none.
_NAMES = {IGNITION: ("ignition",), LIGHTS: ("lights", "lighting", "lamps")}


@dataclass
class FarEnds:
    """Gathers the feeds and conditions that readings call for."""

    loom: Loom
    parts: Mapping[str, Part]
    roles: Mapping[str, object]
    feeds: dict[str, Feed] = field(default_factory=dict)
    conditions: dict[str, tuple[Position, ...]] = field(default_factory=dict)

    def of(self, reading: MeterReading, asked: Asked) -> str:
        """The address at the far end; ``unknown`` where a loom cannot say it at its edge."""
        if reading.kind == "link":
            return reading.to
        if reading.kind == "earth" and reading.when == ALWAYS:
            place = self.loom.places.get(asked.place)
            return f"earth:{place.zone}" if place else "earth"
        if reading.kind != "live":
            return "unknown"
        name = f"feed:measured-{split_address(asked.place)[0].rpartition('.')[2]}-{asked.mark}-{asked.number}"
        name = name.replace(":", "-").replace(" ", "-").replace("feed-", "feed:", 1)
        role = _ROLES.get(reading.when) or (asked.role if asked.role in self.roles else "30")
        self.feeds[name] = Feed(role=role or "30", when=self._when(reading.when), known="measured")
        return name

    def _when(self, when: str) -> When:
        if when == ALWAYS:
            return {}
        variables = variables_of(self.loom, self.parts)
        for full, labels in variables.items():
            if full.rpartition("/")[2] in _NAMES.get(when, ()):
                return {full: self._live_labels(full, labels)}
        name = _NAMES.get(when, (when,))[0]
        self.conditions.setdefault(name, tuple(Position(label=w, meaning=w) for w in ("off", "on")))
        return {name: ("on",)}

    def _live_labels(self, full: str, labels: tuple[str, ...]) -> tuple[str, ...]:
        """At which labels it is taken to be live: when running and when starting, else at all but rest."""
        meant = {position.label: position.meaning for position in self._positions(full)}
        running = tuple(n for n in labels if meant.get(n, n) in (*RUN_MEANINGS, "start"))
        return running if any(meant.get(n, n) in RUN_MEANINGS for n in running) else labels[1:]

    def _positions(self, full: str) -> tuple[Position, ...]:
        place, _, local = full.rpartition("/")
        if not place:
            return self.loom.conditions.get(full, ())
        part = self.parts[self.loom.places[place].part]
        return part.controls[local].positions if local in part.controls else ()
