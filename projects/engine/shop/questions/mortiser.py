"""Ten questions about the hollow-chisel mortiser."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="What is the hold-down for?",
        choices=(
            "It keeps the part on the table when the chisel is pulled out",
            "It presses the chisel deeper than the lever alone could do",
            "It marks the middle of the part, so that no layout line is needed",
        ),
        right=0,
        why="The chisel sticks in its hole and lifts the part on its way up. The "
        "hold-down, just above the part, keeps it down.",
        source="common practice, no source",
    ),
    Question(
        text="The part stands on the table under the hold-down. Is that enough?",
        choices=(
            "Yes; the chisel's square edges keep it from turning to either side while "
            "the bit is cutting",
            "Yes, if your other hand pulls it toward you",
            "No; it is clamped against the fence too",
        ),
        right=2,
        why="Unclamped, it creeps between strokes: the mortise gets crooked and the "
        "chisel bends. And the hand would be near the chisel.",
        source="common practice, no source",
    ),
    Question(
        text="How is the bit set inside the hollow chisel?",
        choices=(
            "Pulled up tight, so that it rubs on the chisel and both stay together",
            "With a small gap, so that its cutting lips don't rub on the chisel",
            "Hanging out by a whole inch, so that it drills the hole ahead",
        ),
        right=1,
        why="Steel rubbing on steel heats up at once and ruins both. How large a gap "
        "is in the machine's manual, which comes first.",
        source="common practice, no source",
    ),
    Question(
        text="You have tightened the chuck. What comes before the switch?",
        choices=(
            "Take the key out of the chuck and close the cover over chuck and bit",
            "Leave the cover open, to see whether the bit slips in the chuck under "
            "load",
            "Turn the chuck by hand, with the key still in, while pressing the switch",
        ),
        right=0,
        why="Bit and chuck are enclosed above the part and nothing sticks out of the "
        "chuck that could catch a sleeve or be thrown.",
        source="29 CFR 1910.213(l)(1) and (2); the key: common practice, no source",
    ),
    Question(
        text="Which way does the slot in the chisel's side face?",
        choices=(
            "Into the fence, so that chips are collected there",
            "Toward your face, for a good view of the bit",
            "Along the mortise, to the part already cut, so that chips get out",
        ),
        right=2,
        why="Chips that can't get out pack the chisel; it heats up, sticks and can "
        "break. Facing you, it throws hot chips at you.",
        source="common practice, no source",
    ),
    Question(
        text="The chisel smokes and has to be forced down. What do you do?",
        choices=(
            "Hang on the lever with both arms, and finish while it is still hot and "
            "soft",
            "Switch off, let it cool, and tell the instructor: it may be dull or "
            "badly set",
            "Dip it in water between the strokes, with the bit still turning",
        ),
        right=1,
        why="A sharp, well set chisel goes down with moderate force. Tools are kept "
        "sharp and secured; heat is the sign that something isn't.",
        source="29 CFR 1910.213(s)(2), cutters sharp, adjusted, secured; the rest "
        "common practice, no source",
    ),
    Question(
        text="How do you clear chips from beside the chisel?",
        choices=(
            "With a brush, when the bit has stopped",
            "With a finger, between two strokes, as the bit is inside the chisel "
            "anyway",
            "By tapping the turning chisel with a piece of scrap wood",
        ),
        right=0,
        why="The bit shows below the chisel and in its slot, and the chisel's corners "
        "are sharp at rest, too.",
        source="common practice, no source",
    ),
    Question(
        text="In which order are the holes of a mortise cut?",
        choices=(
            "Each hole overlapping the last by half, from the left end to the right "
            "one",
            "In any order, as the chisel always cuts where it is set, whatever the "
            "wood on its sides",
            "So that the chisel has wood on opposite sides: both ends first, then "
            "full holes with narrow rests between",
        ),
        right=2,
        why="With wood on one side only the chisel drifts into the open hole and "
        "bends. Rests between full holes are taken out last.",
        source="common practice, no source",
    ),
    Question(
        text="You want to change to a wider chisel. What comes first?",
        choices=(
            "Loosen the chisel and let it drop on a scrap, while the bit runs down",
            "Cut the power by plug or locked disconnect; the switch alone won't do",
            "Ask somebody to keep a hand on the switch for you",
        ),
        right=1,
        why="Both hands are at the bit then. The machine must not be able to start, "
        "by nobody's mistake.",
        source="29 CFR 1910.213(a)(10), a disconnect that locks is recommended; "
        "(b)(5), kept off while adjusted (paragraph from memory)",
    ),
    Question(
        text="Before the first stroke you check that the chisel, at its lowest,",
        choices=(
            "can go into the table, where the hole for the bolts leaves room",
            "stops where the depth stop holds it, short of the table and of the far "
            "face",
            "reaches your other hand only if that hand is right below it",
        ),
        right=1,
        why="A chisel that meets the table breaks, and its pieces fly: eye protection "
        "is on. A thin part is split by a mortise too near its face.",
        source="29 CFR 1910.133(a)(1), eye protection; the rest common practice, no "
        "source",
    ),
)
