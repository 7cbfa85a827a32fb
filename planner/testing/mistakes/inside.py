"""What fails inside parts, and the ways to earth that are no wire: mountings and the body itself."""

from collections.abc import Iterator

from planner.currents.grid import Gated, Grid
from planner.currents.laws import Filament, Resistance
from planner.currents.solver import Branch
from planner.messages import tr
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
                    words = tr("the fuse of {feed} is blown", feed=self.wired.at(name[1]))
                    yield self._gone("fuse blown", name, words)
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
            what = self.wired.title_of(place)
            missing = tr("the earth of the {place} through its mounting is missing", place=what)
            is_poor = tr("the earth of the {place} through its mounting is poor", place=what)
            at = f"{place}:{mark}"
        else:
            zone = self.loom.zones.get(branch.name[1])
            what = (zone and zone.title) or branch.name[1]
            missing = tr("the way from the body of the {zone} to the rest of it is missing", zone=what)
            is_poor = tr("the way from the body of the {zone} to the rest of it is poor", zone=what)
            at = branch.a
        yield self._gone("earth missing", branch.name, missing, at)
        poor = tuple(
            Change(
                gone=(branch.name,),
                added=(Gated(branch._replace(law=Resistance(law.ohms + ohms)), ()),),
                words=tr("about {ohms:g} ohm", ohms=ohms),
            )
            for ohms in POOR_EARTH_OHMS
        )
        touched = split_address(at)[0] in self.wired.touched_places
        yield Mistake(
            f"{branch.name[1]}-earth-poor",
            "earth poor",
            is_poor,
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
            yield self._gone(
                "coil open", gated.branch.name, tr("the coil of the {place} is open", place=title), place
            )
            return
        kind: Kind = "lamp failed" if isinstance(element, Lamp | Led) else "open inside"
        if isinstance(element, Lamp | Led | Winding):
            failed = tr("{what} of the {place} has failed", what=_named(does), place=title)
        else:
            failed = tr("{what} of the {place} is open inside", what=_named(does), place=title)
        yield self._gone(kind, gated.branch.name, failed, place)
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
                    words=tr("about {watts:g} W", watts=law.rated_v * law.rated_amps * share),
                )
                for share in OTHER_WATTS
            )
            yield Mistake(
                f"{place}/{does.replace(' ', '-')}-wrong-lamp",
                "wrong lamp",
                tr("the lamp for '{does}' of the {place} has the wrong wattage", does=does, place=title),
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
            words = tr("the fuse between {a} and {b} on the {place} is blown", a=a, b=b, place=title)
            yield self._gone("fuse blown", name, words, f"{place}:{b}")
        elif isinstance(element, Flasher):
            yield self._gone("open inside", name, tr("the {place} is open inside", place=title), place)
        elif isinstance(element, Contact):
            contact = _contact_words(element, title)
            stays_open = tr("{contact} stays open", contact=contact)
            yield self._gone("contact open", name, stays_open, place)
            if element.when:
                own = [g for g in self.grid.branches if g.branch.name[:3] == name]
                yield Mistake(
                    f"{place}/{index}-contact-closed",
                    "contact closed",
                    tr("{contact} stays closed", contact=contact),
                    weight("contact closed", touched=place in self.wired.touched_places),
                    (place,),
                    (Change(gone=(name,), added=tuple(Gated(g.branch, ()) for g in own)),),
                )


def _named(does: str) -> str:
    """A load by what it does; one without a name has the number of its element."""
    return tr("what is inside") if does.startswith("#") else f"'{does}'"


def _contact_words(contact: Contact, title: str) -> str:
    """A contact by its terminals, and when it is made."""
    marks = "-".join(contact.join)
    if not contact.when:
        return tr("the contact {marks} of the {place}", marks=marks, place=title)
    states = (f"{name} {tr(' or ').join(values)}" for name, values in contact.when.items())
    when = tr(" and ").join(states)
    return tr("the contact {marks} of the {place} (made with {when})", marks=marks, place=title, when=when)
