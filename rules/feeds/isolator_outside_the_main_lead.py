"""A battery isolator isolates only what goes through it, and which leads those are only the owner can say.

What it looks for
A fitted part with an isolated-live terminal on which no end is.

Why it matters
Fed from a fuse or the nearest live point it looks connected, and with the key out everything burns on.

Before
Two leads on the battery's live post, an isolator in a new place.

After
The isolator is fitted and nothing moved; a remark names the leads on the post and says where each would go.

Limits
It moves nothing: what must stay live (a bilge pump, an alarm, a clock) no drawing tells.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.relieving import battery_poles
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.need import Emission, Fitted, Remark
from planner.model.wording import address_words, wire_words

OUT, IN = "isolated-live", "30"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark on how the main lead would go, if nothing goes through an isolator yet."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fitted) else None
    if part is None or not isinstance(need, Fitted):
        return
    marks = {t.role: f"{need.at}:{mark}" for mark, t in part.terminals.items()}
    if OUT not in marks or IN not in marks or case.ends_at(marks[OUT]):
        return
    for live, _ in battery_poles(case):
        leads = [f"{wire_words(w, end)} ({w.wire}, {w.end_mm2(end):g} mm2)" for w, end in case.wires_at(live)]
        if not leads:
            continue
        post = address_words(case.loom, live)
        into, out = (address_words(case.loom, marks[role]) for role in (IN, OUT))
        text = tr(
            "{place}: it isolates nothing until the main lead goes through it. At {post}: {leads}. What is "
            "to be dead with it goes to {out}, a new cable as thick as the thickest of these from the post "
            "to {into}; what must stay live stays on the post. Enter it so in the loom, and plan again",
            place=case.loom.place_title(need.at),
            post=post,
            leads=", ".join(leads),
            out=out,
            into=into,
        )
        yield Remark(text, Reason("isolator-outside-the-main-lead", (f"no end is on {out}",)))
