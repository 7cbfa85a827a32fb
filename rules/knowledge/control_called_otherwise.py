"""The new part calls a control otherwise than the old one did.

What it looks for
A fitted part in place of an old one, whose controls have other names or cannot be told apart by what they
do; or have the same names, and do one another's work.

Why it matters
Everything that is told of positions goes by the names of the old part. Where two switches of the new part
could both be the old one, the plan has to take one of them, and the knobs may end up exchanged. Where the new
part has two switches for one, what the old one did at once counts as lost, and is still to be had. A part
that was only measured has a control of its own even where a pedal works it.

Before
A lighting switch whose control is "lighting"; the new one calls it "lamps".

After
As the plan says, with a remark that names both, or how several are worked together; or a question, which of
two it is. So too of two positions of one control that did the same for terminals of one role, such as two
work lamps.

Limits
Controls are told apart by their positions and by what they join and feed at terminals of known purpose, then
by what goes together, then by equal marks. Coils and what remembers are matched too, and not told: nobody
moves them by hand.

Source
common practice, no source
"""

from collections.abc import Iterator, Mapping

from planner.engine.case import Case
from planner.messages import tr
from planner.model.control_words import (
    controls_in_doubt,
    crossed_controls,
    renamed_controls,
    worked_by_itself,
    worked_together,
)
from planner.model.delta import Reason
from planner.model.done_together import positions_in_doubt
from planner.model.need import Emission, Fitted, Question, Remark
from planner.model.same_variables import match_variables


def propose(case: Case) -> Iterator[Emission]:
    """Yield a remark on each other name, and a question where nothing tells two controls apart."""
    need = case.need
    if not isinstance(need, Fitted):
        return
    old, new = case.old_part(need.at), case.part(need.at)
    if old is None or new is None or old == new:
        return
    title = case.loom.place_title(need.at)
    match = match_variables(old, new)
    for sentence in renamed_controls(old, new, match):
        text = tr("{place}: {sentence}", place=title, sentence=sentence)
        yield Remark(text, Reason("control-called-otherwise", (sentence,)))
    for sentence in worked_together(old, new, match):
        text = tr("{place}: {sentence}", place=title, sentence=sentence)
        yield Remark(text, Reason("control-called-otherwise", (sentence,)))
    for fact in crossed_controls(old, new):
        text = tr(
            "{place}: {fact}. If the names in its file are mixed up, exchange them there and plan again",
            place=title,
            fact=fact,
        )
        yield Remark(text, Reason("control-called-otherwise", (fact,)))
    for condition, control in worked_by_itself(old, new, match):
        fact = f"{condition} works the old part, and '{control}' of the new one is a switch of its own"
        yield Question(
            about=tr(
                "{place}: does {condition} work '{control}' of the new part?",
                place=title,
                condition=condition,
                control=control,
            ),
            where=tr("new part in the hand, and its place in the vehicle"),
            how=tr("see whether what moved the old part moves the new one"),
            answers=(
                (
                    tr("it does"),
                    tr(
                        "leave the control out of the new part's file, write when: {condition} at its "
                        "contacts, and plan again",
                        condition=f"{{{condition}: ...}}",
                    ),
                ),
                (tr("it does not"), tr("the plan stands, with what it loses")),
            ),
            why=Reason("control-called-otherwise", (fact,)),
        )
    for name, pairs in positions_in_doubt(old, new, match.names):
        yield _positions_question(title, name, pairs)
    if in_doubt := controls_in_doubt(old, new, match):
        taken = ", ".join(
            tr("'{name}' is taken to be '{other}'", name=name, other=match.names[name]) for name in in_doubt
        )
        others = tr(" and ").join(dict.fromkeys(f"'{other}'" for each in in_doubt.values() for other in each))
        fact = f"{others} of the new part have the same positions, and nothing tells them apart"
        yield Question(
            about=tr("{place}: which control of the new part is which? {taken}", place=title, taken=taken),
            where=tr(
                "new part in the hand: what is printed beside each, and an ohmmeter between its terminals"
            ),
            how=tr(
                "work {others} in turn and note what each joins; do the same with the old part", others=others
            ),
            answers=(
                (tr("they are as taken"), tr("the plan stands")),
                (
                    tr("otherwise"),
                    tr("call each as on the old part in the file of the new one, and plan again"),
                ),
            ),
            why=Reason("control-called-otherwise", (fact,)),
        )


def _positions_question(title: str, name: str, pairs: Mapping[str, str]) -> Question:
    """Ask which position of a control is which, where several did the same by role."""
    taken = ", ".join(
        tr("'{name}' is taken to be '{other}'", name=label, other=other) for label, other in pairs.items()
    )
    labels = tr(" and ").join(f"'{label}'" for label in pairs)
    fact = f"{labels} of '{name}' did the same for terminals of one role, and nothing tells them apart"
    return Question(
        about=tr("{place}: which position of the new part is which? {taken}", place=title, taken=taken),
        where=tr("new part in the hand: an ohmmeter between its terminals"),
        how=tr(
            "step through its positions and note which terminals each joins; do the same with the old part, "
            "and see which wire was on which"
        ),
        answers=(
            (tr("they are as taken"), tr("the plan stands")),
            (
                tr("otherwise"),
                tr(
                    "give each position in the file of the new part the meaning it had on the old; plan again"
                ),
            ),
        ),
        why=Reason("control-called-otherwise", (fact,)),
    )
