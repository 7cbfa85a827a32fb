"""A silent observer of the choice: every method does nothing until someone overrides it."""

from planner.model.need import Fault, Need, Proposal


class Trace:
    """Told what the engine does; keeps and prints nothing."""

    def asked(self, need: Need, proposals: tuple[Proposal, ...]) -> None:
        """A need was put to the rules and these proposals came back."""

    def judged(self, faults: tuple[Fault, ...], minutes: float) -> None:
        """A loom was proven."""

    def stopped(self, reason: str) -> None:
        """The search ended before every loom was judged."""
