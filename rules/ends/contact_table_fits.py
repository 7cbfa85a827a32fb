"""An end whose terminal has no known role goes where the contacts of the new part do the same.

What it looks for
A loose end whose old terminal, or whose possible terminals on the new part, have no role. The wired terminals
of the old part are laid onto the new part so that the same terminals are joined in every position of the same
meaning and the same things inside are reached. Of several ways those are kept in which a feed comes to a
terminal that wants it, and an output to none that does.

Why it matters
Early and reproduction parts often carry letters, numbers or nothing. The contact table can be measured with
the part in the hand, and it decides where the marks do not.

Before
A switch marked 1, 2, 3, of which 1 joins 2 at "side" and 1 joins 2 and 3 at "head".

After
1 goes to the terminal of the new switch that is joined at both settings, 2 to the one joined at "side" too, 3
to the one joined at "head" only.

Limits
Only settings that both parts have are compared. Where several layings fit and the terminals are not alike,
the rule asks instead of choosing. Of the two leads of a load polarity tells: another rule asks that. A
terminal that joins nothing in any shared setting is left to other rules.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import NATURE_WANTED
from planner.engine.two_leads import lead_for
from planner.messages import tr
from planner.model.contact_table import table_of
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal, Question
from planner.model.terminal_maps import map_terminals
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move if the contact tables allow one target, a question if they allow several."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    parts = case.parts_without_role(need.was)
    if parts is None or lead_for(case, need.was) is not None:
        return
    (old, new), (place, mark) = parts, split_address(need.was)
    role = old.terminals[mark].role
    wired = {terminal for _, _, terminal in case.before.ends_of_place(place)}
    ways = [way for way in map_terminals(old, new, wired) if mark in way]
    ways = [way for way in ways if _suits(case, place, way)] or ways
    targets = tuple(dict.fromkeys(way[mark] for way in ways))
    if not targets:
        return
    end = case.old_end(need.wire, need.end)
    table = table_of(new)
    facts = (
        f"{end} was on {address_words(case.before, need.was)}, whose role is {role or 'not known'}",
        f"the contacts at {', '.join(targets)} of the new part join the same things at the same settings",
    )
    why = Reason("contact-table-fits", facts, leans_on=((need.wire, need.end),))
    if all(table.are_alike(targets[0], other) for other in targets[1:]):
        yield Proposal((case.put(need.wire, need.end, f"{place}:{targets[0]}"),), why)
    else:
        yield _question(case, need, targets, why)


def _suits(case: Case, place: str, way: dict[str, str]) -> bool:
    """Whether every conductor is of the nature that the role of its new terminal wants, as far as known."""
    for mark, target in way.items():
        nature = case.facts.at(f"{place}:{mark}").nature
        given, wanted = NATURE_WANTED.get(nature, "partner"), case.wants(f"{place}:{target}")
        if nature != "dead" and wanted not in ("nothing", given):
            return False
    return True


def _question(case: Case, need: LooseEnd, targets: tuple[str, ...], why: Reason) -> Question:
    """Ask which of the terminals does what the old one did."""
    place, mark = split_address(need.was)
    title = case.loom.place_title(place)
    end = case.old_end(need.wire, need.end)
    return Question(
        about=tr(
            "which terminal of the new {place} takes {wire} from {mark}: {targets}?",
            place=title,
            wire=end,
            mark=mark,
            targets=tr(" or ").join(targets),
        ),
        where=tr(
            "new part in the hand: ohmmeter from each of {targets} to its other terminals",
            targets=", ".join(targets),
        ),
        how=tr("step through every setting; note the same for {mark} of the old part", mark=mark),
        answers=tuple(
            (
                tr("{target} is joined at the settings at which {mark} was", target=target, mark=mark),
                tr("{wire} goes to {target}", wire=end, target=target),
            )
            for target in targets
        ),
        why=why,
    )
