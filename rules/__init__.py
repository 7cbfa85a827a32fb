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
from rules.charging import (
    charge_lamp_excites_field,
    coil_and_ballast_disagree,
    dynamo_becomes_alternator,
    way_of_the_output,
)
from rules.earth import (
    earth_through_mounting,
    earthed_body_on_switched_return,
    must_not_be_earthed,
    own_earth_lost,
    panel_does_not_earth,
    poor_earth,
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
    drain_at_rest,
    fed_and_fused_side,
    one_feed_two_terminals,
    output_nobody_connects,
    terminal_needs_ignition,
    terminal_needs_live,
    two_feeds_one_terminal,
)
from rules.instruments import gauge_and_sender_disagree, gauge_without_stabiliser, sender_not_known
from rules.knowledge import another_kind_of_part, leans_on_assumed_fact, unknown_end
from rules.load import (
    generator_overasked,
    heavy_load_on_old_way,
    terminal_carries_too_much,
    wire_too_thin,
)
from rules.made import finished_lead_from_stock, new_wire
from rules.protection import (
    factory_unfused_feed,
    fuse_larger_than_wire,
    fuse_smaller_than_load,
    one_fuse_both_headlamps,
)
from rules.signals import flasher_does_not_suit_lamps, shared_indicator_with_led_lamps
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
    flasher_does_not_suit_lamps,
    shared_indicator_with_led_lamps,
    drain_at_rest,
    gauge_and_sender_disagree,
    gauge_without_stabiliser,
    sender_not_known,
    dynamo_becomes_alternator,
    charge_lamp_excites_field,
    way_of_the_output,
    coil_and_ballast_disagree,
    fuse_larger_than_wire,
    fuse_smaller_than_load,
    terminal_carries_too_much,
    wire_too_thin,
    heavy_load_on_old_way,
    poor_earth,
    generator_overasked,
)

RULES = rule_set(_MODULES)
