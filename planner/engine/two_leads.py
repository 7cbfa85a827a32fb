"""Parts with two leads and no roles: polarity and the earthed pole tell which lead is the live one."""

from planner.engine.case import Case
from planner.model.elements import EndUser
from planner.model.loom import split_address
from planner.model.part import Part
from planner.model.polarity import polarity_of

PLUS, MINUS = "+", "-"


def two_leads(part: Part) -> tuple[str, str] | None:
    """The two leads of a part that is nothing but a load between them, without roles; the positive one first.

    Which that is, is told by their marks, else by the order inside; of one that does not mind, any.
    """
    wired = {mark for mark, terminal in part.terminals.items() if terminal.by == "wire"}
    users = [e for e in part.inside if isinstance(e, EndUser) and not getattr(e, "is_in_series", False)]
    if len(wired) != 2 or len(users) != len(part.inside) or any(t.role for t in part.terminals.values()):
        return None
    pairs = {user.between for user in users}
    if len(pairs) != 1 or wired != set(next(iter(pairs))):
        return None
    return (PLUS, MINUS) if wired == {PLUS, MINUS} else next(iter(pairs))


def is_told(part: Part) -> bool:
    """Whether its data tell which of two leads is the positive one, or that it does not matter."""
    return polarity_of(part) is not None or {PLUS, MINUS} <= set(part.terminals)


def lead_for(case: Case, was: str) -> str | None:
    """The lead of a new part for the end of an old terminal; None if that brought neither feed nor earth."""
    place, _ = split_address(was)
    part, fact = case.part(place), case.facts.at(was)
    leads = two_leads(part) if part is not None else None
    if leads is None or (fact.live == "never" and fact.earthed == "never"):
        return None
    return live_and_earthed(case, leads)[fact.live == "never"]


def live_and_earthed(case: Case, leads: tuple[str, str]) -> tuple[str, str]:
    """The two leads, the one for the live pole first."""
    return leads if case.loom.supply.live_volts > 0 else (leads[1], leads[0])
