"""What an old control did and another control does now: worked otherwise, and so not lost.

Position by position a push that came out can no longer be pressed, and a beam that a relay remembered is lost
where a switch holds it now. But a restorer asks whether it can still be had. So the controls and memories
that are not the same in both looms are taken together: a setting of the old ones *is* one of the new ones if
every load that hangs on them does the same in both, whatever all the other controls are at. While a button is
held, what else is on may stay on: pressing it cannot switch off what the key has switched on. A setting that
stayed by itself is none that has to be held now. What only went on while somebody held the old control, and
goes on without the new one, is not told: what works it is what worked it.

Where the controls of one part only are not the same, as with one that is split in two, nobody knows which is
meant: that stays lost, and a rule says which of the new ones do it together.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import product
from math import prod

from planner.circuit.fitted import LoadKey
from planner.proof.align import ABSENT, Alignment
from planner.proof.behaviour import Behaviour, View, is_on
from planner.proof.compare import Comparison, Finding
from planner.proof.starts import Row

MOST_SETTINGS = 48  # of what is not the same in both looms; with more nobody would find the one that is meant
MOST_LOOKS = 4_000  # at one load; beyond that it is not looked for
Setting = tuple[tuple[str, str], ...]  # controls and memories that are not the same, each with its label


class Elsewhere:
    """Settings of controls that came out or changed, and what stands for each of them now."""

    def __init__(self, comparison: Comparison, alignment: Alignment) -> None:
        self.comparison, self.alignment = comparison, alignment
        self.before, self.after = comparison.before, comparison.after
        self._instead: dict[Setting, Setting | None] = {}
        self._seen: dict[tuple[bool, LoadKey, Setting], tuple[frozenset[object], ...] | None] = {}

    def settled(self, findings: Sequence[Finding]) -> Iterator[Finding]:
        """Yield the findings, what is only worked otherwise apart from what is lost."""
        concerned = [finding for finding in findings if finding.outcome != "kept" and self._concerns(finding)]
        # Where nothing was on that is not so now, no new position stands for an old one.
        is_missed = any(is_on(finding.before) and not finding.in_new_position for finding in concerned)
        for finding in findings:
            if finding not in concerned or (finding.in_new_position and not is_missed):
                yield finding
                continue
            if finding.in_new_position:
                yield from self._new_of_itself(finding)
                continue
            left: set[Row] = set()
            otherwise: dict[Setting, set[Row]] = {}
            for row in finding.rows:
                instead = self._stands_for(finding, row)
                if instead is None:
                    left.add(row)
                elif not self._needs_no_holding((finding.at, finding.what), instead):
                    otherwise.setdefault(instead, set()).add(row)
            if len(left) == len(finding.rows):
                yield finding
                continue
            if left:
                yield finding._replace(rows=frozenset(left))
            for instead, rows in sorted(otherwise.items()) if is_on(finding.before) else ():
                said = self._told((finding.at, finding.what), instead)
                yield finding._replace(outcome="otherwise", rows=frozenset(rows), instead=said)

    def _told(self, key: LoadKey, instead: Setting) -> Setting:
        """What of a setting works a load: without what makes no difference to it, and what nobody holds."""
        done = self._shown(key, instead, is_old=False)
        told = dict(instead)
        for name in dict(instead):
            free = {n for n, _ in instead if n not in told} | {name}
            ranges = ([(n, at) for at in self._new[n]] if n in free else [(n, told[n])] for n, _ in instead)
            turned = product(*ranges)
            is_alike = all(self._shown(key, setting, is_old=False) == done for setting in turned)
            if len(told) > 1 and is_alike:
                del told[name]
        held = {name for name in told if self._is_let_go(name, told[name])}
        return tuple(each for each in told.items() if each[0] not in held or len(held) == len(told))

    def _is_let_go(self, name: str, label: str) -> bool:
        """Whether it goes without saying that a control is there: it springs back to its rest."""
        variable = self.after.net.variables.get(name)
        return variable is not None and bool(variable.sprung) and label == variable.values[0]

    def _new_of_itself(self, finding: Finding) -> Iterator[Finding]:
        """Yield what a new position gives, without what it does for an old one: that is nothing new."""
        rows = frozenset(row for row in finding.rows if not self._is_for_an_old_one(finding, row))
        if rows:
            yield finding._replace(rows=rows)

    def _is_for_an_old_one(self, finding: Finding, row: Row) -> bool:
        """Whether a position stands for an old one; what is not meant has to do all the same in both."""
        new = self._said(dict(zip(finding.names, row, strict=True)), self._new)
        if finding.outcome == "gained":
            return new in self._images
        if finding.outcome != "unintended" or new not in self._images:
            return False
        key = (finding.at, finding.what)
        done = self._shown(key, new, is_old=False)
        return done is not None and any(
            self._found(old) == new and self._shown(key, old, is_old=True) == done
            for old in self._settings(self._old)
        )

    def _concerns(self, finding: Finding) -> bool:
        apart = {*self._old, *self._new}
        return (
            not self._is_one_part
            and not finding.is_memory
            and bool(apart.intersection(finding.names))
            and (finding.at, finding.what) in self._keys
            and 1 < self._size(self._old) <= MOST_SETTINGS
            and self._size(self._new) <= MOST_SETTINGS
        )

    def _stands_for(self, finding: Finding, row: Row) -> Setting | None:
        """What does now what was done in a row; of a gain, only if it shows where an old setting went."""
        labels = dict(zip(finding.names, row, strict=True))
        instead = self._found(self._said(labels, self._old))
        if instead is None or is_on(finding.before):
            return instead
        return instead if self._said(labels, self._new) in self._images else None

    @staticmethod
    def _said(labels: Mapping[str, str], values: Mapping[str, Mapping[str, int]]) -> Setting:
        """The setting that labels speak of; what they leave out is at rest."""
        return tuple(
            (name, label if (label := labels.get(name, "")) in known else next(iter(known)))
            for name, known in values.items()
        )

    # What is not the same in both looms.

    @cached_property
    def _dead(self) -> frozenset[str]:
        """Controls that worked something before and work nothing now."""
        looms = (self.before, self.after)
        worked, works = (
            {view.label_of(v) for load in view.loads.values() for v in load.controls} for view in looms
        )
        return frozenset(worked - works)

    @cached_property
    def _apart(self) -> list[str]:
        return [
            name
            for name, control in self.alignment.controls.items()
            if name in self._dead or any(d.is_new or d.is_gone for d in control.detents)
        ]

    @cached_property
    def _is_one_part(self) -> bool:
        """Whether only controls of one part are not the same: what it does together is said by a rule."""
        kinds = (view.net.variables for view in (self.before, self.after))
        steps = any(v.kind == "step" for net in kinds for n, v in net.items() if n in (self._old | self._new))
        return not steps and len({name.rpartition("/")[0] for name in (*self._old, *self._new)}) == 1

    @cached_property
    def _old(self) -> dict[str, dict[str, int]]:
        return self._values(self.before, self.after, self._apart)

    @cached_property
    def _new(self) -> dict[str, dict[str, int]]:
        return self._values(self.after, self.before, [n for n in self._apart if n not in self._dead])

    def _values(self, view: View, other: View, apart: Iterable[str]) -> dict[str, dict[str, int]]:
        """The positions of each control, and the states of each step that the other loom has not."""
        is_old = view is self.before
        found = {
            name: {
                d.label: d.before if is_old else d.after
                for d in self.alignment.controls[name].detents
                if (d.before if is_old else d.after) != ABSENT
            }
            for name in apart
        }
        for name, variable in view.net.variables.items():
            if variable.kind == "step" and name not in other.net.variables:
                found[name] = {label: index for index, label in enumerate(variable.values)}
        return {name: labels for name, labels in found.items() if labels}

    @staticmethod
    def _size(values: Mapping[str, Mapping[str, int]]) -> int:
        return prod(len(labels) for labels in values.values())

    @cached_property
    def _keys(self) -> tuple[LoadKey, ...]:
        """The loads of both looms that hang on what is not the same, those on least first."""
        apart = {*self._old, *self._new}
        both = [
            (key, self.before.loads[key], self.after.loads[key])
            for key in self.before.loads
            if key in self.after.loads
        ]
        hang = [
            (len(self.comparison.names_of(old, new)), key)
            for key, old, new in both
            if apart.intersection(
                (*self.comparison.names_of(old, new), *self.comparison.starts.memories_of(old, new))
            )
        ]
        return tuple(key for _, key in sorted(hang))

    # Which setting is which.

    @cached_property
    def _images(self) -> frozenset[Setting]:
        """The settings that there are now and that stand for an old one."""
        found = (self._found(setting) for setting in self._settings(self._old))
        return frozenset(setting for setting in found if setting is not None)

    def _found(self, setting: Setting) -> Setting | None:
        """What does now what a setting did before, all of it the same if there is such a one."""
        if setting not in self._instead:
            held = self._is_held(self.before, setting)
            ways = [new for new in self._settings(self._new) if held or not self._is_held(self.after, new)]
            same = (new for new in ways if self._does(setting, new, more=False))
            more = (
                new for new in ways if self._is_held(self.after, new) and self._does(setting, new, more=True)
            )
            self._instead[setting] = next(same, None) or next(more, None)
        return self._instead[setting]

    def _needs_no_holding(self, key: LoadKey, instead: Setting) -> bool:
        """Whether a load does all the same with what is held let go, as it did before in that very setting.

        It then only went on while somebody held another control, and what works it is what worked it.
        """
        if not self._is_held(self.after, instead):
            return False
        done = self._shown(key, instead, is_old=False)
        for let_go in self._let_go(instead):
            labels = dict(let_go)
            if all(labels[name] in known for name, known in self._old.items() if name in labels):
                was = self._shown(key, self._said(labels, self._old), is_old=True)
                if done == self._shown(key, let_go, is_old=False) == was:
                    return True
        return False

    def _let_go(self, setting: Setting) -> Iterator[Setting]:
        """Yield the settings in which what had to be held is at a position that stays."""
        variables = self.after.net.variables
        stays = [
            [other for other in self._new[name] if other not in variables[name].sprung]
            if name in variables and label in variables[name].sprung
            else [label]
            for name, label in setting
        ]
        for row in product(*stays):
            yield tuple(zip((name for name, _ in setting), row, strict=True))

    @staticmethod
    def _settings(values: Mapping[str, Mapping[str, int]]) -> Iterator[Setting]:
        for row in product(*values.values()):
            yield tuple(zip(values, row, strict=True))

    @staticmethod
    def _is_held(view: View, setting: Setting) -> bool:
        """Whether somebody has to hold a control there."""
        variables = view.net.variables
        return any(name in variables and label in variables[name].sprung for name, label in setting)

    def _does(self, old: Setting, new: Setting, *, more: bool) -> bool:
        """Whether every load does in one setting what it did in another, or is on besides."""
        for key in self._keys:
            was, now = self._shown(key, old, is_old=True), self._shown(key, new, is_old=False)
            if was is None or now is None:
                return False
            for one, other in zip(was, now, strict=True):
                if one and one != other and not (more and not any(map(is_on, one))):
                    return False
        return True

    def _shown(self, key: LoadKey, setting: Setting, *, is_old: bool) -> tuple[frozenset[object], ...] | None:
        """How a load shows in a setting, for each of all other controls; None if these are too many."""
        identity = (is_old, key, setting)
        if identity not in self._seen:
            self._seen[identity] = self._look(key, setting, is_old=is_old)
        return self._seen[identity]

    def _look(self, key: LoadKey, setting: Setting, *, is_old: bool) -> tuple[frozenset[object], ...] | None:
        old, new = self.before.loads[key], self.after.loads[key]
        names = [n for n in self.comparison.names_of(old, new) if n not in self._old and n not in self._new]
        if prod(len(self.alignment.controls[name].detents) for name in names) > MOST_LOOKS:
            return None
        view, load, values = (self.before, old, self._old) if is_old else (self.after, new, self._new)
        held = {view.variable_number[name]: values[name][label] for name, label in setting}
        found = []
        for each in self.alignment.settings(names):
            there = each.before if is_old else each.after
            assert there is not None  # what is not the same is in the setting
            found.append(self._appearances(view, load, {**there, **held}))
        return tuple(found)

    def _appearances(self, view: View, load: Behaviour, assignment: Mapping[int, int]) -> frozenset[object]:
        """How a load ends from every start with the steps as said; where one moves, from those only."""
        steps = [(i, assignment[v]) for i, v in enumerate(load.group.hidden) if v in assignment]
        starts = [s for s in load.starts(assignment) if all(s[i] == value for i, value in steps)]
        moving = [s for s in starts if self.comparison.starts.moves(view, assignment, load, s)]
        return frozenset(load.appears(assignment, start) for start in moving or starts)
