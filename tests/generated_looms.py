"""Small looms drawn around one shipped part: every terminal on a feed, an earth or a lamp, by its role."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from hypothesis import strategies as st

from planner.engine.packs import installed_rules
from planner.engine.rule import Rule
from planner.engine.settle import Choice
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.part import Part
from planner.model.plan import Plan
from planner.pipeline import open_catalogue, plan, settle
from planner.proof.prove import Prover
from planner.reading.catalogue import read_loom

# Families whose parts switch, pass on or use current between a handful of terminals; sources are left out.
FAMILIES = (
    "wiper-switch", "wiper-motor", "lighting-switch", "dip-relay", "fuse-box", "turn-switch", "interior-lamp",
    "heater-switch", "horn", "horn-push", "ignition-switch", "relay", "tail-lamp", "headlamp", "flasher",
)  # fmt: skip
VAN = "skarrow-8"
LAST_FEED_RANK = 20  # roles up to here are fed; further from the live pole a lamp hangs on the terminal
EARTHED = ("earth", "return")
LIVE = ("30", "B+", "live-fused")
COLOURS = ("RD", "OG", "GN", "YE", "BU", "VT", "GY", "PK", "TQ", "WH")


@lru_cache
def catalogue() -> Catalogue:
    """The shipped catalogue, read once."""
    return open_catalogue()


@lru_cache
def rules() -> tuple[Rule, ...]:
    """The installed rules, loaded once."""
    return installed_rules()


@lru_cache
def van() -> Loom:
    """The shipped van, for its conditions, zones and colours."""
    return read_loom(VAN, catalogue())


@dataclass(frozen=True)
class Drawn:
    """A loom around one part, and the part that may take its place."""

    loom: Loom
    new_part: str

    def job(self, fit: str | None = None, **fields: Any) -> Job:
        """A job that puts a part at the place; the part that is there if none is named."""
        fit = fit or self.loom.places[PLACE].part
        swaps = [{"at": PLACE, "fit": fit}]
        return Job.model_validate({"job": "drawn", "loom": self.loom.loom, "swaps": swaps, **fields})


PLACE = "dash.thing"


def wire_far_end(part: Part, mark: str) -> str:
    """Where the wire on a terminal leads: the body, a feed or a lamp, by the terminal's role."""
    role = part.terminals[mark].role
    entry = catalogue().roles.get(role) if role else None
    if entry is None or LAST_FEED_RANK < entry.rank < 60:
        return f"lamp.{mark.lower().replace('+', 'plus').replace('-', 'minus')}:lamp"
    return f"feed:{role}" if entry.rank <= LAST_FEED_RANK else "earth:dash"


@st.composite
def looms(draw: st.DrawFn, *, is_whole: bool = True) -> Drawn:
    """A loom around a part of one of the families; not whole: some terminals are bare."""
    parts = catalogue().parts
    known = {name for name, part in parts.items() if part.family in FAMILIES}
    old = parts[draw(st.sampled_from(sorted(known)))]
    new = draw(st.sampled_from(sorted(name for name in known if parts[name].family == old.family)))
    marks = [mark for mark, terminal in old.terminals.items() if terminal.by == "wire"]
    mountings = ["metal", "insulated"]
    if is_whole and len(marks) < len(old.terminals):
        mountings = ["metal"]  # a part that earths by its mounting works only there
    if not is_whole:
        marks = draw(st.lists(st.sampled_from(marks), min_size=1, unique=True))
    places: dict[str, Any] = {
        PLACE: {"part": old.part, "zone": "dash", "mounting": draw(st.sampled_from(mountings))}
    }
    feeds: dict[str, Any] = {}
    wires = []
    for number, mark in enumerate(marks):
        far = wire_far_end(old, mark)
        if far.startswith("lamp."):
            places[far.partition(":")[0]] = {"part": "turn-lamp", "zone": "nose"}
        if far.startswith("feed:"):
            role = far.removeprefix("feed:")
            feeds[far] = {
                "role": role,
                "when": {} if role in LIVE else {"main switch": "on"},
                "fuse_amps": 15,
            }
        ends = [f"{PLACE}:{mark}", far]
        colour = draw(st.sampled_from(COLOURS))
        wires.append(
            {"wire": f"W{number}", "colour": colour, "mm2": 1.5, "metres": draw(st.sampled_from([0.4, 1, 3])),
             "known": draw(st.sampled_from(["measured", "seen", "drawing"])),
             "ends": ends if draw(st.booleans()) else ends[::-1]}
        )  # fmt: skip
    conditions = {name: [p.label for p in positions] for name, positions in van().conditions.items()}
    loom = Loom.model_validate(
        {
            "loom": "drawn",
            "supply": {"volts": 12, "earthed": "negative"},
            "conditions": {**conditions, "main switch": ["off", "on"]},
            "feeds": feeds,
            "zones": {"dash": {}, "nose": {}},
            "routes": [{"from": "dash", "to": "nose", "metres": 1.5}],
            "scheme": dict(van().scheme),
            "places": places,
            "wires": wires,
        }
    )
    return Drawn(loom, new)


def planned(job: Job, loom: Loom) -> Plan:
    """A job planned as the command does it."""
    return plan(job, loom, catalogue(), rules())


def settled(job: Job, loom: Loom) -> Choice:
    """A job settled, before it is put into words."""
    return settle(job, loom, catalogue(), rules(), Prover(loom, catalogue(), job))


def renamed(loom: Loom, job: Job, names: Mapping[str, str]) -> tuple[Loom, Job]:
    """The same loom and job with some places called otherwise."""

    def address(said: str) -> str:
        place, colon, mark = said.partition(":")
        return names.get(place, place) + colon + mark

    wires = tuple(
        wire.model_copy(
            update={"ends": tuple(end.model_copy(update={"at": address(end.at)}) for end in wire.ends)}
        )
        for wire in loom.wires
    )
    places = {names.get(name, name): place for name, place in loom.places.items()}
    swaps = tuple(swap.model_copy(update={"at": names.get(swap.at, swap.at)}) for swap in job.swaps)
    return (
        copy_loom(loom, wires=wires, places=places),
        job.model_copy(update={"swaps": swaps}),
    )
