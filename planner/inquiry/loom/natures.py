"""What a conductor is, in words."""

from collections.abc import Mapping
from types import MappingProxyType

from planner.inquiry.loom.found import FoundLoom
from planner.model.facts import ConductorFact, Nature

_NATURES: Mapping[Nature, str] = MappingProxyType(
    {
        "always-live": "always live",
        "ignition-live": "live with the ignition",
        "switched-live": "live",
        "earth": "earth",
        "switched-earth": "earth",
        "load": "neither live nor earth by itself",
        "dead": "neither live nor earth, and nothing hangs on it",
    }
)


def nature_words(fact: ConductorFact) -> str:
    """What a conductor is: ``live with the key switch at on``."""
    is_sometimes = fact.nature in ("switched-live", "switched-earth")
    return f"{_NATURES[fact.nature]} {fact.when}" if is_sometimes else _NATURES[fact.nature]


def feed_words(found: FoundLoom, name: str) -> str:
    """A feed at the edge with what it is and its fuse."""
    fuse = found.loom.feeds[name].fuse_amps
    protected = f", fuse {fuse:g} A" if fuse else ""
    return f"{found.address(name)} ({nature_words(found.facts.at(name))}{protected})"
