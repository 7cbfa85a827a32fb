"""How people say what they see, put as it is read: ``horn won't sound when I press it``.

Tables of what is said and of what that is in the words of ``seen_line``: a load, how it looks, and behind
"with" how the controls are. Only what says the same is exchanged; what is in no table stays as it is.
"""

import re
from collections.abc import Sequence

Table = Sequence[tuple[re.Pattern[str], str]]


def _table(*said: tuple[str, str]) -> Table:
    return tuple((re.compile(pattern), put) for pattern, put in said)


_WHOLE = _table(
    (r"\bwon't\b", "will not"),
    (r"\bcan't\b|\bcannot\b", "can not"),
    (r"\b(does|do|did|is|are|would)n't\b", r"\1 not"),
    (r",? \b(?:at all|any ?more|any longer|again|right now|just|only|even)\b", ""),
    (r" (?:all (?:of )?the time|always|constantly|permanently|by itself|by themselves)\b", ""),
    (r" (?:when(?:ever)?|while|as soon as|once|if|after|every time) (?:i|we|you|the driver)? ?", " with "),
)
_CONTROLS = _table(
    (r"\b(?:is|are|being|down|in) ", ""),
    (r"^(?:braking|brake|(?:step|stepping) on the brakes?|(?:press|hit)(?:ing)? the brakes?)\b",
     "brake pedal pressed"),
    (r"^(?:turn|indicate|signal)(?:ing)? (left|right)\b", r"turning \1"),
    (r"^(?:press|push|hold|use|us|sound|honk|operat)e?(?:ing)? (?:it|them)\b", "pressed"),
    (r"^pull(?:ing)? (?:it|them)\b", "pulled"),
    (r"^(?:press|push|hold|sound|honk)(?:ing)? (?:down )?(?:the |its )?(.+)", r"\1 pressed"),
    (r"^pull(?:ing)? (?:the )?(.+)", r"\1 pulled"),
    (r"^(?:switch|turn|put)(?:ing)? (on|off) (?:the )?(.+)", r"\2 \1"),
    (r"^(?:switch|turn|put)(?:ing)? (?:the )?(.+) (on|off)$", r"\1 \2"),
    (r"^(?:switch|turn|chang|go|dip)(?:e|ing)? (?:over )?to (?:the )?", ""),
    (r"^open(?:ing)? (?:the |a )?(.+)", r"\1 open"),
    (r"^(?:shut|clos)(?:e|ting|ing)? (?:the |a )?(.+)", r"\1 shut"),
    (r"\b(?:switched|turned|put) (on|off)\b", r"\1"),
    (r"\b(?:pushed|held|depressed)\b", "pressed"),
    (r"\bdoors? closed\b", "door shut"),
    (r"\bdoors (shut|open)\b", r"door \1"),
    (r"^the ", ""),
)  # fmt: skip
_WORK = (
    r"(?:work|light(?: up)?|come on|go on|turn(?: over)?|start|run|sound|honk|beep|blow|flash|blink|spin"
    r"|crank|move|register)"
)
_LOOKS = _table(
    (r"\bkeeps? (?:on )?(?:running|burning|sounding|lighting)\b", "on"),
    (r"\bkeeps? (?:on )?(flash|blink|glow)ing\b", r"\1es"),
    (r"\bblinkes\b", "blinks"),
    (r"\bglowes\b", "glows"),
    (r"\bdo(?:es)? not flash\b", "flashes not"),
    (r"\bstops? (?:anywhere|where (?:it is|they are)|mid ?way|half ?way|in mid.sweep)\b", "does not park"),
    (r"^(?:wind(?:screen|shield) )?wipers? (?:do(?:es)?|will) not (?:self.)?park\b(?: themselves| itself)?",
     "wipe slowly off with blades sweeping"),
    (r"\b(?:do(?:es)?|will) not (?:self.)?park\b(?: themselves| itself)?", "off with blades sweeping"),
    (rf"\b(?:do(?:es)?|did|will|would|can|is|are) not {_WORK}\b", "off"),
    (r"\b(?:comes?|goes|go|lights?|turns?) on\b|\blights? up\b", "on"),
    (r"\b(?:honks?|beeps?)$", "on"),
    (r"\b(?:goes|go|went) (?:out|off|dead)\b|\bdies?\b|\bcuts? out\b", "off"),
    (r"\b(?:gets?|goes|go|becomes?|burns?|turns?) (dim|weak|faint|dull|slow)$", r"\1"),
    (r"\b(?:do(?:es)?|will) not go (?:off|out)\b|\bstays? lit\b", "on"),
    (r"^(fuse .+?) (?:keeps? )?(?:blow(?:s|ing)?|pops?|melts?|burns? out)$", r"\1 blown"),
    (r"^no (?!reading)(.+)", r"\1 off"),
    (r"^nothing (?:works?|happens|lights?(?: up)?|runs?|comes? on|goes)\b|^everything (?:is )?dead\b",
     "everything off"),
    (r"^hazards?(?: (?:lights?|lamps?|flashers?))? (?!switch|tell)(.+)", r"indicators \1 with hazard on"),
    (r"^(.+?) (?:lights?|sounds?|starts?|works|runs|operates|brings? on|turns? on|switches on)(?: up)?"
     r" the (.+)$", r"\2 on with \1 on"),
    (r"^(.+?) (\S+(?: not)?) on (?:the )?(low|dipped|dip|high|main) beam$", r"\1 \3 beam \2"),
    (r"^(?:the )?(high|main|full|low|dipped|dip) beam (?!warning|lamp|light|tell)", r"\1 beams "),
    (r"^full beams", "main beams"),
    (r"^dip beams", "dipped beams"),
    (r"^(.+?) (?:on )?(slow|fast|low|high|first|second) speed (.+)", r"\1 \3 with \2"),
    (r"^(.+?) ((?:flash\w*|blink\w*) \w+|\S+) on (?:the )?(left|right)(?:.hand)?(?: side)?$", r"\3 \1 \2"),
)  # fmt: skip


def in_plain_words(text: str) -> str:
    """A line as people say it, in the words that are read."""
    said = " ".join(text.casefold().replace("\u2019", "'").split()).rstrip(".!")
    head, *when = re.split(r"(?:^| )with ", _put(said, _WHOLE))
    head, *more = _put(head, _LOOKS).split(" with ")
    settings = [*(_put(each, _CONTROLS) for each in when), *more]
    return f"{head} with {', '.join(settings)}" if settings else head


def _put(said: str, table: Table) -> str:
    for pattern, put in table:
        said = pattern.sub(put, said)
    return " ".join(said.split())
