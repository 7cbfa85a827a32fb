"""The standard rules: one situation a file, one line each here, asked in this order."""

from planner.engine.rule import rule_set
from rules.behaviour import (
    back_feed,
    coil_lost_feed,
    dead_position,
    indicator_lost_return,
    path_broken,
    shared_indicator_stays_dark,
    stops_off_park,
    wanted_but_missing,
)
from rules.earth import (
    earth_through_mounting,
    earthed_body_on_switched_return,
    must_not_be_earthed,
    own_earth_lost,
    panel_does_not_earth,
    return_switch_works_relay,
    separate_earth_terminal,
)
from rules.ends import (
    chain_end_without_home,
    contact_table_fits,
    dead_end_without_home,
    end_does_not_reach,
    ends_that_shared_a_terminal,
    equal_mark_other_role,
    fitting_does_not_match,
    lands_on_same_role,
    live_end_without_home,
    same_role_of_one_side,
    unknown_end_without_home,
)
from rules.feeds import (
    fed_and_fused_side,
    one_feed_two_terminals,
    output_nobody_connects,
    terminal_needs_ignition,
    terminal_needs_live,
    two_feeds_one_terminal,
)
from rules.knowledge import another_kind_of_part, leans_on_assumed_fact, unknown_end
from rules.made import finished_lead_from_stock, new_wire
from rules.protection import factory_unfused_feed, one_fuse_both_headlamps
from rules.supply import (
    dynamo_at_other_pole,
    fuse_at_other_volts,
    kept_at_other_volts,
    leads_the_wrong_way_round,
    made_for_the_other_pole,
    one_load_of_other_volts,
    part_of_other_volts,
    polarity_not_known,
)
from rules.tabs import bare_driven_terminal, ends_trade_terminals, missing_terminal_equal_node, terminal_full

_MODULES = (
    lands_on_same_role,
    same_role_of_one_side,
    contact_table_fits,
    missing_terminal_equal_node,
    equal_mark_other_role,
    ends_that_shared_a_terminal,
    live_end_without_home,
    dead_end_without_home,
    unknown_end_without_home,
    chain_end_without_home,
    fitting_does_not_match,
    end_does_not_reach,
    terminal_full,
    bare_driven_terminal,
    ends_trade_terminals,
    finished_lead_from_stock,
    new_wire,
    another_kind_of_part,
    leans_on_assumed_fact,
    unknown_end,
    one_feed_two_terminals,
    output_nobody_connects,
    terminal_needs_ignition,
    terminal_needs_live,
    panel_does_not_earth,
    separate_earth_terminal,
    fed_and_fused_side,
    two_feeds_one_terminal,
    earth_through_mounting,
    earthed_body_on_switched_return,
    return_switch_works_relay,
    must_not_be_earthed,
    own_earth_lost,
    factory_unfused_feed,
    one_fuse_both_headlamps,
    back_feed,
    coil_lost_feed,
    dead_position,
    indicator_lost_return,
    path_broken,
    shared_indicator_stays_dark,
    stops_off_park,
    wanted_but_missing,
    part_of_other_volts,
    one_load_of_other_volts,
    kept_at_other_volts,
    fuse_at_other_volts,
    leads_the_wrong_way_round,
    made_for_the_other_pole,
    dynamo_at_other_pole,
    polarity_not_known,
)

RULES = rule_set(_MODULES)
