"""Ten questions about the drill press."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="You drill a hole in a small part. What holds it?",
        choices=(
            "Two fingers on each side, as close to the bit as the hole needs",
            "A clamp or vice on the table, or a fence on the side it would turn to",
            "The left hand, flat on top, because the bit pushes the part down",
        ),
        right=1,
        why="The bit grabs most as it breaks through, and a loose part then spins "
        "like a propeller.",
        source="common practice, no source",
    ),
    Question(
        text="Before you press the switch, where is the chuck key?",
        choices=(
            "Out of the chuck, in its place",
            "In the chuck, ready for the next bit, as long as it sits tightly in its "
            "hole",
            "On the table, beside the part",
        ),
        right=0,
        why="A key left in the chuck is thrown at the first turn. Don't let go of it "
        "before it is out.",
        source="common practice, no source",
    ),
    Question(
        text="What is the greatest danger to hair and clothing here?",
        choices=(
            "Oil that drips down from the quill",
            "Hot chips, which may leave burns in the cloth",
            "The turning spindle, which winds up whatever touches it",
        ),
        right=2,
        why="Spindle and chuck turn at head height. Long hair, cords, sleeves, rings "
        "and gloves are wound up before you can reach the switch.",
        source="common practice, no source",
    ),
    Question(
        text="What lies under the part when the hole goes right through?",
        choices=(
            "Nothing; the bit stops when it feels the metal of the table",
            "A flat scrap board",
            "Two thin strips at the ends, so that chips can fall out below",
        ),
        right=1,
        why="The scrap keeps the underside from splitting and the bit from hitting "
        "the table.",
        source="common practice, no source",
    ),
    Question(
        text="You change from a 1/4 in bit to a 2 in Forstner bit. And the speed?",
        choices=(
            "Goes down",
            "Goes up, as there is more wood to take away",
            "Stays as it is, because the same wood is drilled",
        ),
        right=0,
        why="The rim of a wide bit moves much faster at the same turns a minute. The "
        "chart on the machine or its manual gives the figures and comes first.",
        source="common practice, no source",
    ),
    Question(
        text="How do you drill across a dowel?",
        choices=(
            "On the bare table, holding it with a gloved hand",
            "By letting the bit find the middle of it while you steer",
            "In the hand, with the dowel's end against the column, so that it cannot "
            "turn away",
            "In a V-shaped block, clamped",
        ),
        right=3,
        why="Round stock rolls as soon as the bit touches it off centre.",
        source="common practice, no source",
    ),
    Question(
        text="The part has torn loose and spins with the bit. What do you do?",
        choices=(
            "Grip it firmly with both hands before it gets faster",
            "Switch off and step back until it has stopped",
            "Pull the lever up quickly, to lift the bit out of the spinning part",
        ),
        right=1,
        why="A spinning part breaks fingers. The switch is within reach; the part "
        "comes to rest without you.",
        source="29 CFR 1910.213(b)(1), power cut off from where one works (paragraph "
        "from memory); the rest common practice, no source",
    ),
    Question(
        text="Long curls of chips hang on the bit. How do you remove them?",
        choices=(
            "By hand, in a quick downward stroke, as long as you follow the bit's "
            "turning",
            "By blowing from close by",
            "Stop the spindle first, then use a brush",
        ),
        right=2,
        why="Chips are sharp, and a hand or rag on a turning bit is pulled round with "
        "it.",
        source="common practice, no source",
    ),
    Question(
        text="To set another speed you move the belt. What comes first?",
        choices=(
            "Cut the power, by plug or locked disconnect, then open the cover",
            "Open the cover while the spindle slows down, so that the belt slips over "
            "by itself",
            "Loosen the belt with the motor running slowly",
        ),
        right=0,
        why="Belt and pulleys take fingers in where they meet. They run under a "
        "cover, and it is closed again before starting.",
        source="29 CFR 1910.213(a)(9), belts and pulleys guarded; (b)(5), kept off "
        "while adjusted (paragraph from memory)",
    ),
    Question(
        text="You lean in to watch the point of the bit. What protects your eyes?",
        choices=(
            "Half-closed eyelids",
            "The chuck, which is between you and most of the chips",
            "Eye protection with side shields, also over or in place of your own "
            "glasses",
            "Chips of wood are soft, so that nothing is needed when only wood is "
            "drilled",
        ),
        right=2,
        why="Chips and broken bits fly, from the side too. Everyday glasses leave the "
        "sides open; for wearers there is protection that fits.",
        source="29 CFR 1910.133(a)(1) to (3)",
    ),
)
