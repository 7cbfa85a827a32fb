"""First power: which fuses go in one after another, and what has to work with each."""

from collections.abc import Iterable, Iterator

from planner.messages import later, tr
from planner.model.bench_sheet import FedLoad, FuseTest
from planner.model.catalogue import Catalogue
from planner.model.elements import Fuse
from planner.model.facts import Facts
from planner.model.fitted_fuse import fuse_as_fitted, fused_side
from planner.model.loom import Loom
from planner.model.wording import address_words

WITHOUT_FUSE = later("With all fuses in: what is fed past them")

_AT = {
    False: later("{does} ({place})"),
    True: later("{does} ({place}, with a trailer or a board with lamps plugged in)"),
}


def fuse_tests(loom: Loom, catalogue: Catalogue, facts: Facts) -> tuple[FuseTest, ...]:
    """The fuses of a loom with the loads behind each; last what is fed past them.

    ``facts`` are those of this loom: what each of its conductors is, and through which fuse it is fed.
    """
    tests = []
    told: set[tuple[str, str]] = set()
    for place, fitted in loom.places.items():
        for element in catalogue.parts[fitted.part].inside:
            if isinstance(element, Fuse):
                at = fused_side(place, element)
                loads = facts.fused_loads.get(at, ())
                told |= set(loads)
                fuse = fuse_as_fitted(loom, place, element)
                words = _words(loom, catalogue, loads)
                tests.append(FuseTest(at, address_words(loom, at), fuse.amps, words, fuse.marked))
    for feed, record in loom.feeds.items():
        if record.fuse_amps is not None:
            loads = facts.fused_loads.get(feed, ())
            told |= set(loads)
            tests.append(
                FuseTest(feed, address_words(loom, feed), record.fuse_amps, _words(loom, catalogue, loads))
            )
    if rest := [load for load in _wired_loads(loom, facts) if load not in told]:
        named = (
            tr(WITHOUT_FUSE) if tests else tr("With the lamp in series")
        )  # there are looms without any fuse
        tests.append(FuseTest("", named, 0.0, _words(loom, catalogue, rest)))
    return tuple(tests)


def _wired_loads(loom: Loom, facts: Facts) -> Iterator[tuple[str, str]]:
    """Yield the loads, but for those of which no terminal that could feed them has a wire."""
    feeding: dict[tuple[str, str], list[str]] = {}
    for address, fact in facts.by_address.items():
        for load in fact.loads:
            feeding.setdefault(load, []).extend([address] if fact.nature != "earth" else [])
    for load, addresses in feeding.items():
        # A load without any has its feed inside of its part, such as a starter behind its solenoid.
        if not addresses or any(loom.ends_at.get(address) for address in addresses):
            yield load


def _words(loom: Loom, catalogue: Catalogue, loads: Iterable[tuple[str, str]]) -> tuple[FedLoad, ...]:
    return tuple(
        FedLoad((place, does), tr(_AT[_is_on_a_plug(loom, catalogue, place)]).format(does=does, place=title))
        for place, does in loads
        for title in [loom.place_title(place)]
    )


def _is_on_a_plug(loom: Loom, catalogue: Catalogue, place: str) -> bool:
    """Whether what is at a place works only with a plug in: a trailer's lamps are drawn in its socket."""
    return catalogue.parts[loom.places[place].part].family == "trailer-socket"
