"""The standard rules: one situation a file, one line each here, asked in this order."""

from planner.engine.rule import rule_set
from rules.earth import panel_does_not_earth, separate_earth_terminal
from rules.ends import dead_end_without_home, lands_on_same_role, live_end_without_home
from rules.feeds import (
    one_feed_two_terminals,
    output_nobody_connects,
    terminal_needs_ignition,
    terminal_needs_live,
)
from rules.made import new_wire
from rules.tabs import bare_driven_terminal

_MODULES = (
    lands_on_same_role,
    live_end_without_home,
    dead_end_without_home,
    bare_driven_terminal,
    new_wire,
    one_feed_two_terminals,
    output_nobody_connects,
    terminal_needs_ignition,
    terminal_needs_live,
    panel_does_not_earth,
    separate_earth_terminal,
)

RULES = rule_set(_MODULES)
