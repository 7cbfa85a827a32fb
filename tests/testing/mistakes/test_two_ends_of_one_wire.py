"""Two ends of one wire that are traded are told apart by where they lead: the wire's name is the same."""

from metered import metered


def test_traded_ends_of_one_wire_are_named_by_where_they_lead() -> None:
    van = metered("fuse-box-mirrored")
    own = [
        mistake.words
        for mistake in van.slips.values()
        if mistake.kind == "ends traded" and len({end.wire for end in mistake.changes[0].ends}) == 1
    ]
    assert own
    for words in own:
        assert " leads to " in words and words.count("(F3)") == 1, words
    assert any(
        words.endswith("the one that leads to the feed side belongs on 7 on the fuse box, dash")
        for words in own
    )
