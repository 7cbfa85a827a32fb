"""What fails inside parts, and the ways to earth that are no wire: mountings and the body itself."""

from collections.abc import Iterator

from planner.currents.grid import Gated, Grid
from planner.currents.laws import Filament, Resistance
from planner.currents.solver import Branch
from planner.model.catalogue import Catalogue
from planner.model.elements import AnyElement, Coil, Contact, Flasher, Fuse, Lamp, Led, Winding
from planner.model.loom import split_address
from planner.testing.mistakes.mistake import Change, Kind, Mistake
from planner.testing.mistakes.priors import weight
from planner.testing.wired import Wired

POOR_EARTH_OHMS = (0.5, 5.0, 50.0)  # rust, paint, a loose strap; common practice, no source
OTHER_WATTS = (0.25, 4.0)  # a 5 W bulb for a 21 W one, and the other way round


class Inside:
    """The faults inside the parts of one loom, and of their ways to earth."""

    def __init__(self, wired: Wired, grid: Grid, catalogue: Catalogue) -> None:
        self.wired, self.loom, self.grid, self.catalogue = wired, wired.loom, grid, catalogue

    def every(self) -> Iterator[Mistake]:
        """Yield them all, in the order of the grid."""
        seen: set[tuple[str, str]] = set()
        for gated in self.grid.branches:
            name = gated.branch.name
            if gated.kind in ("mounting", "body"):
                yield from self._way_to_earth(gated.branch)
            elif gated.kind == "load":
                yield from self._load(gated)
            elif gated.kind == "feed":
                if self.loom.feeds[name[1]].fuse_amps:
                    yield self._gone("fuse blown", name, f"the fuse of {self.wired.at(name[1])} is blown")
            elif gated.kind in ("contact", "fuse", "flasher") and name[1:3] not in seen:
                seen.add((name[1], name[2]))
                yield from self._joint(gated)

    def _gone(self, kind: Kind, name: tuple[str, ...], words: str, *mend: str) -> Mistake:
        place = name[1].partition(":")[0]
        touched = place in self.wired.touched_places
        tag = "/".join(name[1:]).replace(" ", "-")
        return Mistake(
            f"{tag}-{kind.replace(' ', '-')}",
            kind,
            words,
            weight(kind, touched=touched),
            mend or (name[1],),
            (Change(gone=(name,)),),
        )

    def _way_to_earth(self, branch: Branch) -> Iterator[Mistake]:
        law = branch.law
        assert isinstance(law, Resistance)
        if branch.name[0] == "mounting":
            place, mark = split_address(branch.a)
            what = f"the earth of the {self.wired.title_of(place)} through its mounting"
            at = f"{place}:{mark}"
        else:
            zone = self.loom.zones.get(branch.name[1])
            what = f"the way from the body of the {(zone and zone.title) or branch.name[1]} to the rest of it"
            at = branch.a
        yield self._gone("earth missing", branch.name, f"{what} is missing", at)
        poor = tuple(
            Change(
                gone=(branch.name,),
                added=(Gated(branch._replace(law=Resistance(law.ohms + ohms)), ()),),
                words=f"about {ohms:g} ohm",
            )
            for ohms in POOR_EARTH_OHMS
        )
        touched = split_address(at)[0] in self.wired.touched_places
        yield Mistake(
            f"{branch.name[1]}-earth-poor",
            "earth poor",
            f"{what} is poor",
            weight("earth poor", touched=touched),
            (at,),
            poor,
        )

    def _load(self, gated: Gated) -> Iterator[Mistake]:
        """Yield a load that is open inside, and a lamp of other watts."""
        _, place, does = gated.branch.name
        title, law = self.wired.title_of(place), gated.branch.law
        element = self._element(gated)
        if isinstance(element, Coil):
            yield self._gone("coil open", gated.branch.name, f"the coil of the {title} is open", place)
            return
        kind: Kind = "lamp failed" if isinstance(element, Lamp | Led) else "open inside"
        failed = "has failed" if isinstance(element, Lamp | Led | Winding) else "is open inside"
        what = f"'{does}'" if not does.startswith("#") else "what is inside"
        yield self._gone(kind, gated.branch.name, f"{what} of the {title} {failed}", place)
        if isinstance(law, Filament):
            others = tuple(
                Change(
                    gone=(gated.branch.name,),
                    added=(
                        Gated(
                            gated.branch._replace(law=Filament(law.rated_v, law.rated_amps * share)),
                            gated.guard,
                        ),
                    ),
                    words=f"about {law.rated_v * law.rated_amps * share:g} W",
                )
                for share in OTHER_WATTS
            )
            yield Mistake(
                f"{place}/{does.replace(' ', '-')}-wrong-lamp",
                "wrong lamp",
                f"the lamp for '{does}' of the {title} has the wrong wattage",
                weight("wrong lamp", touched=place in self.wired.touched_places),
                (place,),
                others,
            )

    def _element(self, gated: Gated) -> AnyElement | None:
        """The element that a load's branch stands for, by what it is called and where it sits."""
        _, place, does = gated.branch.name
        for index, element in enumerate(self.catalogue.parts[self.loom.places[place].part].inside):
            if getattr(element, "does", None) == does or does == f"#{index}":
                return element
        return None

    def _joint(self, gated: Gated) -> Iterator[Mistake]:
        """Yield a contact, fuse or flasher that stays open, and a contact that stays closed."""
        kind, place, index = gated.branch.name[:3]
        title = self.wired.title_of(place)
        element = self.catalogue.parts[self.loom.places[place].part].inside[int(index)]
        name = (kind, place, index)
        if isinstance(element, Fuse):
            a, b = element.between
            words = f"the fuse between {a} and {b} on the {title} is blown"
            yield self._gone("fuse blown", name, words, f"{place}:{b}")
        elif isinstance(element, Flasher):
            yield self._gone("open inside", name, f"the {title} is open inside", place)
        elif isinstance(element, Contact):
            marks = "-".join(element.join)
            when = " and ".join(f"{v} {' or '.join(values)}" for v, values in element.when.items())
            at = f" (made with {when})" if when else ""
            words = f"the contact {marks} of the {title}{at} stays open"
            yield self._gone("contact open", name, words, place)
            if element.when:
                own = [g for g in self.grid.branches if g.branch.name[:3] == name]
                yield Mistake(
                    f"{place}/{index}-contact-closed",
                    "contact closed",
                    f"the contact {marks} of the {title}{at} stays closed",
                    weight("contact closed", touched=place in self.wired.touched_places),
                    (place,),
                    (Change(gone=(name,), added=tuple(Gated(g.branch, ()) for g in own)),),
                )
