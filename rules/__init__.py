"""The standard rules: one situation a file, one line each here, asked in this order."""

from planner.engine.rule import rule_set
from rules.ends import dead_end_without_home, lands_on_same_role, live_end_without_home
from rules.made import new_wire
from rules.tabs import bare_driven_terminal

_MODULES = (
    lands_on_same_role,
    live_end_without_home,
    dead_end_without_home,
    bare_driven_terminal,
    new_wire,
)

RULES = rule_set(_MODULES)
