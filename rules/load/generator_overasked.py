"""More is asked of a generator than it gives: the battery pays the difference.

What it looks for
A position in which everything that can be on together takes more than the generator's output.

Why it matters
No fuse blows and nothing smells; the battery is flat after a night's drive in the rain, and a dynamo that is
held at its limit for hours burns its armature.

Before
A dynamo of 22 A with headlamps, heater and wipers.

After
The same with two fog lamps more: a remark says how much is asked, how much is given, and with what on.

Limits
Nothing in the wiring helps, so there is no step: switch less on at once, fit lamps that take less, or a
stronger generator. What an engine at idle gives is less and not known.

Source
the output that the catalogue gives for the part
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.sizing import strain_of
from planner.messages import tr
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, Remark


def propose(case: Case) -> Iterator[Emission]:
    """Yield one remark with the numbers."""
    strain = strain_of(case, "generator")
    if strain is None:
        return
    title = case.loom.place_title(split_address(strain.at)[0])
    on = ", ".join(f"{name.rpartition('/')[2]} {label}" for name, label in sorted(strain.position.items()))
    facts = (f"{strain.value:.1f} A are asked of the {title} with {on}", f"it gives {strain.limit:g} A")
    text = tr(
        "the {place} is asked for {asked:.1f} A and gives {limit:g} A: the battery makes up {rest:.1f} A "
        "while that is on; no wiring helps, only less on at once or a stronger generator",
        place=title,
        asked=strain.value,
        limit=strain.limit,
        rest=strain.value - strain.limit,
    )
    yield Remark(text, Reason("generator-overasked", facts, strain.source))
