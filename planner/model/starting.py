"""Which controls turn the starter as long as they are held."""

from planner.model.catalogue import Catalogue
from planner.model.elements import Contact, Control
from planner.model.loom import Loom

STARTER_ROLE = "50"


def starting_positions(loom: Loom, catalogue: Catalogue) -> frozenset[tuple[str, str]]:
    """Each control, as the loom calls it, with a position that springs back and feeds a starter."""
    found = set()
    for place, fitted in loom.places.items():
        part = catalogue.parts[fitted.part]
        starts = {mark for mark, terminal in part.terminals.items() if terminal.role == STARTER_ROLE}
        for contact in part.inside if starts else ():
            if not isinstance(contact, Contact) or starts.isdisjoint(contact.join):
                continue
            for name, labels in contact.when.items():
                control = part.controls.get(name)
                held = set(labels) & sprung_positions(control) if control is not None else ()
                found |= {(f"{place}/{fitted.called.get(name, name)}", label) for label in held}
    return frozenset(found)


def sprung_positions(control: Control) -> frozenset[str]:
    """What is listed after the position that a control returns to: start after on, pressed after released."""
    if control.returns is None:
        return frozenset()
    labels = [position.label for position in control.positions]
    return frozenset(labels[labels.index(control.returns) + 1 :])
