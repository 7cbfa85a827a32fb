"""Before against after: what each load, cam and memory does in every position and from every start."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from planner.model.need import Outcome
from planner.proof.align import Alignment, JointSetting
from planner.proof.behaviour import Behaviour, Start, View, is_on
from planner.proof.let_go import let_go
from planner.proof.running import PassedThrough, passed_through
from planner.proof.starts import Row, StartPairs

# What a step does, where it does it from every state that it starts in.
STAYS, STEPS = "stays as it was", "steps on"


class Sample(NamedTuple):
    """One position of a finding: settings and start states of both looms (variable number: value)."""

    before: Mapping[int, int] | None
    start_before: Start | None
    after: Mapping[int, int] | None
    start_after: Start | None


class Finding(NamedTuple):
    """One outcome of one behaviour, with every position in which it shows."""

    what: str
    at: str
    duty: str
    kind: str
    outcome: Outcome
    before: str
    after: str
    names: tuple[str, ...]  # variables of the rows: controls, then memories (start states)
    rows: frozenset[Row]
    possible: frozenset[Row]
    in_new_position: bool = False
    is_memory: bool = False
    sample: Sample | None = None
    accepted: bool = False
    as_wished: bool = False  # the job wants it off there, and it is
    instead: tuple[tuple[str, str], ...] = ()  # of what is worked otherwise: by which controls, at what
    let_go: tuple[str, ...] = ()  # armatures that held before and rest now, and bring it about

    @property
    def share(self) -> float:
        """Share of all positions compared in which it shows."""
        return len(self.rows) / len(self.possible) if self.possible else 1.0

    def positions(self) -> list[Mapping[str, str]]:
        """The rows as mappings, in order."""
        return [dict(zip(self.names, row, strict=True)) for row in sorted(self.rows)]


@lru_cache(maxsize=1024)
def _kept(what: str, at: str, duty: str, kind: str) -> Finding:
    """The outcome of a behaviour that is the same in both looms, as nearly all are."""
    whole: frozenset[Row] = frozenset({()})
    return Finding(what, at, duty, kind, "kept", "", "", (), whole, whole)


class _Judgement(NamedTuple):
    """The outcome of a look, and the armatures that bring it about by letting go."""

    outcome: Outcome
    let_go: tuple[str, ...] = ()


_Group = tuple[Outcome, str, str, bool, tuple[str, ...]]  # what rows of a table have in common


def _of_group(item: tuple[_Group, set[Row]]) -> _Group:
    """What groups of rows are sorted by."""
    return item[0]


@dataclass
class _Table:
    """Rows of one behaviour, sorted into outcomes while they are collected."""

    names: tuple[str, ...]
    possible: set[Row] = field(default_factory=set)
    groups: dict["_Group", set[Row]] = field(default_factory=dict)
    samples: dict["_Group", Sample] = field(default_factory=dict)

    def put(self, look: "_Look", judged: "_Judgement", rows: Iterable[Row]) -> None:
        """Sort rows in that are like a look."""
        self.possible.update(rows)
        group = (judged.outcome, look.was, look.now, look.setting.before is None, judged.let_go)
        self.groups.setdefault(group, set()).update(rows)
        self.samples.setdefault(group, look.sample)

    def copy(self) -> "_Table":
        """A table that can go on without this one."""
        groups = {group: set(rows) for group, rows in self.groups.items()}
        return _Table(self.names, set(self.possible), groups, dict(self.samples))

    def shorten(self, length: int) -> None:
        """Leave the last columns out of every row, if each shorter row still has one outcome."""
        if len(self.names) <= length:
            return
        groups = {group: {row[:length] for row in rows} for group, rows in self.groups.items()}
        possible = {row[:length] for row in self.possible}
        if sum(len(rows) for rows in groups.values()) == len(possible):
            self.names, self.groups, self.possible = self.names[:length], groups, possible


Moment = Mapping[int, int]  # an assignment of controls and hidden states


class _Look(NamedTuple):
    """One position and start of a behaviour, before any judgement."""

    setting: JointSetting
    sample: Sample
    row: Row
    was: str
    now: str
    outcome: Outcome | None  # None: wishes and clean paths decide
    moment: Moment | None  # of an open look: when the load is on
    let_go: frozenset[str] = frozenset()  # armatures that held before and rest at that moment


@dataclass(frozen=True, slots=True)
class _Looks:
    """All looks at a behaviour: a table of those whose outcome is plain, and those that are open.

    Of the open ones that end in one moment of one setting the first stands for the rows of all.
    """

    whole: list[_Look]
    plain: _Table
    open: list[tuple[_Look, list[Row]]]
    findings: dict[object, list[Finding]] = field(default_factory=dict)  # by whose they are, and judgements


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen of behaviours, for all looms in which they behave alike."""

    looks: dict[object, _Looks] = field(default_factory=dict)
    appearances: dict[object, list[tuple[JointSetting, frozenset[object]]]] = field(default_factory=dict)


class Comparison:
    """Compares two views position by position."""

    def __init__(self, before: View, after: View, alignment: Alignment, seen: Seen | None = None) -> None:
        self.before, self.after, self.alignment = before, after, alignment
        self._seen = seen or Seen()
        self.starts = StartPairs(before, after)
        self.passed = passed_through(before, after, alignment)
        self.compared = 0  # positions times start states looked at one by one

    def names_of(self, old: Behaviour | None, new: Behaviour | None) -> tuple[str, ...]:
        """The joint controls that either behaviour depends on."""
        names = {self.before.label_of(v) for v in old.controls} if old else set()
        names |= {self.after.label_of(v) for v in new.controls} if new else set()
        return tuple(sorted(names))

    def findings(
        self,
        old: Behaviour | None,
        new: Behaviour | None,
        is_wanted: Callable[[JointSetting, tuple[str, ...], str], bool],
        is_clean: Callable[[Moment, frozenset[str]], bool],
    ) -> list[Finding]:
        """All outcomes of one behaviour; ``kept`` included.

        ``is_wanted(setting, names, appearance)`` says whether the job wants an appearance;
        ``is_clean(moment, let_go)`` whether a clean path explains activity, by no contact of what let go.
        """
        some = new or old
        assert some is not None
        if old and new and new.is_same_as(old):
            return [_kept(some.what, some.at, some.duty, some.kind)]
        names = self.names_of(old, new)
        memories = self.starts.memories_of(old, new)
        looks = self._looks(old, new, names, memories)
        self.compared += len(looks.whole)
        outcomes = tuple(
            _judge(look, is_wanted(look.setting, names, look.now), is_clean) for look, _ in looks.open
        )
        identity = (some.what, some.at, some.duty, outcomes)
        found = looks.findings.get(identity)
        if found is None:
            table = looks.plain.copy() if looks.open else looks.plain
            for (look, rows), outcome in zip(looks.open, outcomes, strict=True):
                table.put(look, outcome, rows)
            table.shorten(len(names) + self.starts.lasting(memories))
            possible = frozenset(table.possible)
            found = looks.findings[identity] = [
                Finding(
                    some.what, some.at, some.duty, some.kind, outcome, was, now,
                    table.names, frozenset(rows), possible, is_new,
                    sample=table.samples.get((outcome, was, now, is_new, gone)), let_go=gone,
                )
                for (outcome, was, now, is_new, gone), rows in sorted(table.groups.items(), key=_of_group)
            ]  # fmt: skip
        return found

    def _looks(
        self,
        old: Behaviour | None,
        new: Behaviour | None,
        names: tuple[str, ...],
        memories: tuple[str, ...],
    ) -> _Looks:
        """What is seen in every position and from every start; remembered for looms that behave alike."""
        some = new or old
        assert some is not None
        identity = (
            (id(old.function), old.group.identity) if old else None,
            (id(new.function), new.group.identity) if new else None,
            some.kind,
            self._detents(names),
            memories,
            passed := tuple(p for p in self.passed if p.condition in names and p.control in names),
        )
        found = self._seen.looks.get(identity)
        if found is None:
            whole = list(self._look(some.kind, old, new, names, memories, passed))
            plain = _Table(names + memories)
            left: dict[object, tuple[_Look, list[Row]]] = {}
            for look in whole:
                if look.outcome is not None:
                    plain.put(look, _Judgement(look.outcome), (look.row,))
                    continue
                moment = None if look.moment is None else tuple(look.moment.items())
                key = (look.was, look.now, id(look.setting), moment, look.let_go)
                left.setdefault(key, (look, []))[1].append(look.row)
            found = _Looks(whole, plain, list(left.values()))
            self._seen.looks[identity] = found
        return found

    def _detents(self, names: tuple[str, ...]) -> tuple[tuple[str, int | None], ...]:
        """Equal where the controls have the same detents: those before are always the same."""
        return tuple((name, self.after.variable_number.get(name)) for name in names)

    def appearances(self, new: Behaviour) -> list[tuple[JointSetting, frozenset[object]]]:
        """How a behaviour of the loom after can appear in each setting that is left."""
        names = self.names_of(None, new)
        identity = (id(new.function), new.group.identity, self._detents(names))
        found = self._seen.appearances.get(identity)
        if found is None:
            found = self._seen.appearances[identity] = [
                (setting, frozenset(new.appears(after, start) for start in new.starts(after)))
                for setting in self.alignment.settings(names)
                if (after := setting.after) is not None
            ]
        return found

    def _look(
        self,
        kind: str,
        old: Behaviour | None,
        new: Behaviour | None,
        names: tuple[str, ...],
        memories: tuple[str, ...],
        passed: tuple[PassedThrough, ...],
    ) -> Iterator[_Look]:
        """Look at one position and start after the other; not at those that no vehicle stays in."""
        for setting in self.alignment.settings(names):
            position = dict(zip(names, setting.labels, strict=True)) if passed else {}
            if any(each.holds(position) for each in passed):
                continue
            # A new position may make no difference to this load.
            alike = self._appearances(old, setting) if setting.before is None else set[str]()
            for start_old, start_new, memory in self.starts.pairs(setting, old, new, memories):
                was = _appearance(old, setting.before, start_old)
                now = _appearance(new, setting.after, start_new)
                if len(alike) == 1 and now not in alike and is_on(now) and all(map(is_on, alike)):
                    (was,) = alike  # it worked in every position that is near: now it works in another way
                sample = Sample(setting.before, start_old, setting.after, start_new)
                outcome = "kept" if now in alike else _plain_outcome(kind, was, now, setting)
                moment, gone = None, frozenset[str]()
                if outcome is None and new and setting.after is not None and start_new is not None:
                    moment = new.moment_when_on(setting.after, start_new)
                if moment and old and setting.before is not None and start_old is not None:
                    gone = let_go(self.before, self.after, (old, setting.before, start_old), moment)
                yield _Look(setting, sample, (*setting.labels, *memory), was, now, outcome, moment, gone)

    @staticmethod
    def _appearances(old: Behaviour | None, setting: JointSetting) -> set[str]:
        """How a load appeared before in the settings nearest to one that is new."""
        if old is None:
            return {"off"}
        return {str(old.appears(near, start)) for near in setting.nearest for start in old.starts(near)}

    def memory_changes(self) -> Iterator[Finding]:
        """Yield where a step that both looms have ends elsewhere than before: a remark, not a fault."""
        for name, variable in self.after.net.variables.items():
            if variable.kind != "step" or name not in self.before.net.variables:
                continue
            old, new = _step_behaviour(self.before, name), _step_behaviour(self.after, name)
            if old.is_same_as(new):
                continue
            names, memories = self.names_of(old, new), self.starts.memories_of(old, new)
            table = _Table(names + memories)
            for look in self._looks(old, new, names, memories).whole:
                if look.setting.before is not None and look.setting.after is not None:
                    table.put(look, _Judgement("kept" if look.was == look.now else "changed"), (look.row,))
            table.shorten(len(names) + self.starts.lasting(memories))
            place, _, local = name.rpartition("/")
            for (was, now), rows in sorted(_by_what_it_does(name, table).items()):
                yield Finding(
                    local, place, "none", "step", "changed", was, now, table.names,
                    frozenset(rows), frozenset(table.possible), is_memory=True,
                )  # fmt: skip


def _by_what_it_does(step: str, table: _Table) -> dict[tuple[str, str], set[Row]]:
    """The rows in which a step ends elsewhere, by whether it stepped and steps.

    "It stepped on, now it stays" is one thing from whichever state it starts; only where it steps both before
    and after, to different states, or where no start is told, the states say what is different.
    """
    where = table.names.index(step) if step in table.names else None
    told: dict[tuple[str, str], set[Row]] = {}
    for (outcome, was, now, _, _), rows in table.groups.items():
        for row in rows if outcome == "changed" else ():
            start = None if where is None else row[where]
            pair = (STAYS, STEPS) if start == was else (STEPS, STAYS) if start == now else (was, now)
            told.setdefault(pair, set()).add(row)
    return told


def _step_behaviour(view: View, name: str) -> Behaviour:
    number = view.variable_number[name]
    values = view.net.variables[name].values
    function = view.projector.branch(number, tuple(view.projector.constant(v) for v in values))
    group = view.states.group(frozenset((number,)))
    return Behaviour(name, name.rpartition("/")[0], "none", "cam", function, group, group.controls)


def _appearance(behaviour: Behaviour | None, setting: Mapping[int, int] | None, start: Start | None) -> str:
    if behaviour is None or setting is None or start is None:
        return "off"
    return str(behaviour.appears(setting, start))


def _plain_outcome(kind: str, was: str, now: str, setting: JointSetting) -> Outcome | None:
    """The outcome of a look, if neither a wish nor a clean path can change it."""
    if was == now:
        return "kept"
    if setting.after is None:
        return "lost" if is_on(was) and was not in ("parks", "turns") else "kept"
    if kind == "cam":
        return "lost" if was == "parks" and now == "stops off-park" else "kept"
    if is_on(now) or (now == "glows" and not is_on(was)):
        return None
    return "lost" if is_on(was) else "kept"


def _judge(look: _Look, wanted: bool, is_clean: Callable[[Moment, frozenset[str]], bool]) -> _Judgement:
    """The outcome of a look that is not plain: something is on now, or glows."""
    if is_on(look.now) and not is_on(look.was):
        if wanted or (look.moment is not None and is_clean(look.moment, look.let_go)):
            return _Judgement("gained")
        is_by_rest = look.let_go and look.moment is not None and is_clean(look.moment, frozenset())
        return _Judgement("unintended", tuple(sorted(look.let_go)) if is_by_rest else ())
    if is_on(look.now):
        as_meant: Outcome = "kept" if look.setting.before is not None else "gained"
        return _Judgement(as_meant if wanted else "changed")
    return _Judgement("kept" if wanted else "unintended")
