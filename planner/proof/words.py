"""The sentence a restorer would say for a condition, so that it can be read in one way only."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.messages import tr
from planner.proof.condition import Condition, Cube

# Said without "at", as is every word in -ed and -ing ("pressed", "running").
_STATES = ("on", "off", "open", "shut", "closed", "up", "down", "in", "out")


@dataclass(frozen=True)
class _Phrase:
    """One literal as words: what it is about, and how that is."""

    subject: str
    state: str
    is_plural: bool

    def after_with(self) -> str:
        return f"{self.subject} {self.state}"

    def after_while(self) -> str:
        return f"{self.subject} {'are' if self.is_plural else 'is'} {self.state}"


def say(
    condition: Condition,
    titles: Mapping[str, str] | None = None,
    meanings: Mapping[str, Mapping[str, str]] | None = None,
) -> str:
    """Say a condition in plain English, so that it can be read in one way only.

    Parameters
    ----------
    condition
        What to say.
    titles
        What to call a variable ("the wiper switch"); its own name if it has none.
    meanings
        For a variable, what to call its values; a value's own name if it has none.

    Returns
    -------
    str
        Controls (``place/control``) come after "with", vehicle-wide conditions after "while".

    Examples
    --------
    >>> shut = Condition(({"roof.lamp/lamp": ("on",), "left door": ("shut",), "right door": ("shut",)},))
    >>> say(shut, {"roof.lamp/lamp": "the lamp switch"})
    'with the lamp switch on while both doors are shut'
    """
    if not all(condition.cubes) or not condition.cubes:
        return "always" if bool(condition.cubes) is not condition.negated else "never"
    speaker = _Speaker(condition, titles or {}, meanings or {})
    opening = tr("except with") if condition.negated else tr("with")
    if all(len(cube) == 1 for cube in condition.cubes):
        is_among_others = len(condition.cubes) > 1
        phrases = [
            speaker.phrase(name, cube[name], is_among_others) for cube in condition.cubes for name in cube
        ]
        return f"{opening} {_listed([phrase.after_with() for phrase in phrases], 'or')}"
    if condition.negated:
        turned = _turned_round(condition)
        if turned is not None:
            cube, rest = turned
            said = tr("with {clause}", clause=speaker.clause(cube))
            exceptions = tr("; and except with ").join(speaker.clause(other) for other in rest)
            return tr("{said}, except with {clauses}", said=said, clauses=exceptions) if rest else said
    # "except with this, or with that" would leave open whether the second is an exception too.
    joint = tr("; and except with ") if condition.negated else tr("; or with ")
    return f"{opening} {joint.join(speaker.clause(cube) for cube in condition.cubes)}"


def _turned_round(condition: Condition) -> tuple[Cube, tuple[Cube, ...]] | None:
    """Exceptions of one literal said the other way round, as what must be so; and the exceptions left.

    None if there is none, or if what the others could be is not known.
    """
    cube: dict[str, tuple[str, ...]] = {}
    rest = []
    for other in condition.cubes:
        if len(other) > 1:
            rest.append(other)
            continue
        ((name, values),) = other.items()
        left = tuple(v for v in cube.get(name, condition.values.get(name, ())) if v not in values)
        if not left:
            return None
        cube[name] = left
    return (cube, tuple(rest)) if cube else None


class _Speaker:
    """Knows what to call the variables of one condition and their values."""

    def __init__(
        self, condition: Condition, titles: Mapping[str, str], meanings: Mapping[str, Mapping[str, str]]
    ) -> None:
        self.values, self.titles, self.meanings = condition.values, titles, meanings
        names = {*condition.values, *(name for cube in condition.cubes for name in cube)}
        self.subjects = {name: titles.get(name, name) for name in sorted(names)}

    def clause(self, cube: Cube) -> str:
        """One cube, controls first."""
        controls = self._phrases([name for name in cube if "/" in name], cube)
        conditions = self._phrases([name for name in cube if "/" not in name], cube)
        if not controls:
            return _listed([phrase.after_with() for phrase in conditions], "and")
        said = _listed([phrase.after_with() for phrase in controls], "and")
        if conditions:
            said += " while " + _listed([phrase.after_while() for phrase in conditions], "and")
        return said

    def _phrases(self, names: list[str], cube: Cube) -> list[_Phrase]:
        phrases: list[_Phrase] = []
        for name in names:
            phrase = self.phrase(name, cube[name], len(names) > 1)
            pair = next((old for old in phrases if self._both(old, phrase)), None)
            if pair:
                phrases[phrases.index(pair)] = _Phrase(self._both(pair, phrase), phrase.state, True)
            else:
                phrases.append(phrase)
        return phrases

    def _both(self, one: _Phrase, other: _Phrase) -> str:
        """Say "both doors" where a left and a right one are alike and there is no third, else nothing."""
        first, second = (phrase.subject.removeprefix("the ").split() for phrase in (one, other))
        if one.state != other.state or len(first) != len(second):
            return ""
        differing = [place for place, word in enumerate(first) if word != second[place]]
        if len(differing) != 1 or {first[differing[0]], second[differing[0]]} != {"left", "right"}:
            return ""
        noun = first[:]
        del noun[differing[0]]
        subjects = [subject.split() for subject in self.subjects.values()]
        alike = [said for said in subjects if said[-1:] == noun[-1:] and set(noun) <= set(said)]
        if not noun or len(alike) != 2:
            return ""
        return f"both {' '.join(noun)}{'es' if noun[-1].endswith(('s', 'x', 'ch', 'sh')) else 's'}"

    def phrase(self, name: str, chosen: tuple[str, ...], is_among_others: bool) -> _Phrase:
        """One literal; a choice of values among other literals is bracketed."""
        domain = self.values.get(name, ())
        others = [value for value in domain if value not in chosen]
        is_denied = len(chosen) > 1 and len(others) == 1
        words = self.meanings.get(name, {})
        spoken = list(dict.fromkeys(words.get(value, value) for value in (others if is_denied else chosen)))
        is_state = all(word in _STATES or word.endswith(("ed", "ing")) for word in spoken)
        if is_denied:
            is_state = is_state and spoken[0] not in ("on", "off")
        if "/" not in name and len(domain) == 2:
            is_state = True
        said = _listed(spoken, "or")
        if is_among_others and len(spoken) > 1:
            said = f"({said})"
        state = f"{'not ' if is_denied else ''}{'' if is_state else 'at '}{said}"
        subject = self.subjects[name]
        return _Phrase(subject, state, subject.endswith("s") and not subject.endswith(("ss", "us", "is")))


def _listed(words: Sequence[str], joint: str) -> str:
    """Words in a row: one, two and three."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joint} {words[-1]}"
