"""A relay that the job fits stays without a wire where its contact is not rated for what it would switch.

What it looks for
A relay that the job fits in a new place and nothing is joined to, and another beside it that the plan itself
put in for a load too heavy for its old way.

Why it matters
Two relays lie side by side, and only the stronger one is wired: nobody sees why. Filaments take many times
their amps while they are cold, and weld a contact that is rated for what they take warm.

Before
A relay of 40 A for two lamps of 60 W, which ask for a contact of 50 A.

After
A remark says what is asked for; with a relay of that rating in its place the plan wires that one.

Limits
A rating for lamps that the maker of the relay gives outranks the factor. A contact without a rating is taken
as good enough.

Source
FAA AC 43.13-1B table 11-4 for contacts
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.relaying import RELAY_ROLES, asked_amps, rated_amps
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.need import Emission, Fitted, Remark
from planner.model.reach import consumers_beyond

SOURCE = "FAA AC 43.13-1B table 11-4: switch nominal rating = load current x factor"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark on a bare relay beside which the plan put a stronger one."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted) or need.at in case.before.places:
        return
    rated = rated_amps(part)
    roles = {t.role for t in part.terminals.values()}
    if rated is None or not set(RELAY_ROLES) <= roles or case.loom.ends_of_place(need.at):
        return
    for place in _put_in_beside(case, need.at):
        beyond = consumers_beyond(case.loom, case.catalogue, f"{place}:87")
        loads = sorted((c.place, c.does) for c in beyond)
        asked = asked_amps(case, loads) if loads else 0.0
        if asked > rated:
            text = tr(
                "{place} stays without a wire: its contact is rated {rated:g} A, and what the {other} "
                "switches asks for {asked:.0f} A. Fit one of that rating in its place, and the plan uses it",
                place=case.loom.place_title(need.at),
                rated=rated,
                other=case.loom.place_title(place),
                asked=asked,
            )
            fact = "a contact has to be rated for the amps of its load times the factor for its kind"
            yield Remark(text, Reason("fitted-relay-too-weak", (fact,), SOURCE))
            return


def _put_in_beside(case: Case, at: str) -> list[str]:
    """The relays in the zone that neither were there before nor are the job's, of like names first."""
    found = []
    own = _words(case, at)
    for place, fitted in case.loom.places.items():
        part = case.catalogue.parts[fitted.part]
        is_own = place not in case.before.places and not case.is_swapped(place)
        roles = {t.role for t in part.terminals.values()}
        if is_own and fitted.zone == case.zone(f"{at}:87") and set(RELAY_ROLES) <= roles:
            found.append((-len(own & _words(case, place)), place))
    return [place for _, place in sorted(found)]


def _words(case: Case, place: str) -> frozenset[str]:
    return frozenset(case.loom.place_title(place).replace("-", " ").split())
