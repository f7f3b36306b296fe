"""Ten questions about the hand-held router."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="You want to put another bit in. What comes first?",
        choices=(
            "Pull the plug and lay it where you can see it",
            "Set the switch to off and keep a finger on it, so that nobody can press "
            "it",
            "Loosen the collet while the bit is still warm",
        ),
        right=0,
        why="A switch can be knocked on by hand or bench. With the plug in sight, "
        "nothing can start. The router's manual comes first for its collet.",
        source="common practice, no source",
    ),
    Question(
        text="How far does the bit's shank go into the collet?",
        choices=(
            "Just far enough for the collet to touch it, so that the bit reaches "
            "deeper",
            "All the way in, then back out a little before tightening",
            "Until the cutting edges are inside the collet too",
        ),
        right=1,
        why="A shank held at its tip creeps out or snaps. Backed off from the bottom, "
        "it can be gripped firmly.",
        source="common practice, no source",
    ),
    Question(
        text="You rout the outside edges of a panel, seen from above. Which way do "
        "you go round?",
        choices=(
            "Clockwise, so that the bit helps to pull the router along",
            "Either way, as long as the router moves slowly",
            "Counterclockwise, against the turning of the bit",
        ),
        right=2,
        why="Seen from above the bit turns clockwise. Moved the other way round the "
        "outside, it pulls itself to the wood and doesn't run away with you.",
        source="common practice, no source",
    ),
    Question(
        text="You rout round the inside of an opening, such as a frame. Which way, "
        "seen from above?",
        choices=(
            "Clockwise",
            "Counterclockwise, the same as on the outside",
            "Back and forth over each side, to even out the cut",
        ),
        right=0,
        why="Inside an opening the wood lies on the other side of the bit than at an "
        "outside edge, so the direction turns round. It still goes against the "
        "turning of the bit.",
        source="common practice, no source",
    ),
    Question(
        text="A groove is to be 3/8 in deep. How do you get there?",
        choices=(
            "In one pass with the router pressed down hard, before the bit gets hot",
            "In one pass, but pulled along twice as fast, so that the motor isn't "
            "loaded for long",
            "In several passes, each a little deeper",
        ),
        right=2,
        why="A deep cut overloads bit and motor, burns the wood and makes the router "
        "hard to hold.",
        source="common practice, no source",
    ),
    Question(
        text="What holds the part while you rout it?",
        choices=(
            "Your free hand, at the end away from the bit",
            "Clamps, or a jig made for it, clear of the router's path",
            "A friend leaning on it from the other side of the bench",
            "Its own weight, if it is a heavy part",
        ),
        right=1,
        why="Both of your hands belong on the router. A part that slips can be "
        "thrown, and takes the router with it.",
        source="common practice, no source",
    ),
    Question(
        text="You press the switch. Where are router and hands?",
        choices=(
            "The bit rests on the wood where the cut begins; one hand on the cord",
            "Both hands on the handles; the bit stands free of the wood",
            "The router hangs from one hand; the other hand brushes the line clean",
        ),
        right=1,
        why="The router jerks when it starts, and a bit that touches wood grabs it. "
        "Let it reach its speed first.",
        source="common practice, no source",
    ),
    Question(
        text="The cut is finished. When do you set the router down?",
        choices=(
            "After the bit has stopped turning",
            "At once, on its side, with the bit pointing away from everybody around "
            "the bench",
            "While it runs down, on the part just cut",
        ),
        right=0,
        why="A bit that still turns cuts the bench, the cord, or whoever reaches "
        "across. Wait with both hands on the handles.",
        source="common practice, no source",
    ),
    Question(
        text="Before you plug the router in, you look at",
        choices=(
            "the clock, so as to know how long the cut takes",
            "the colour of the bit's shank, which tells how fast to go",
            "the switch, which must be off, and the cord, whole and out of the way",
        ),
        right=2,
        why="A router that starts as it is plugged in jumps off the bench. A cord in "
        "the path gets cut; one that is damaged takes the router out of use.",
        source="common practice, no source",
    ),
    Question(
        text="Which of these goes with routing?",
        choices=(
            "Eye and hearing protection, dust extraction or a mask, nothing loose at "
            "the wrists",
            "Knitted gloves against the shaking of the handles, and a scarf over "
            "mouth and nose against dust",
            "A radio, loud enough to be heard over the motor",
        ),
        right=0,
        why="Chips fly toward the face, the motor is loud, and the dust is fine. "
        "Anything loose near the bit is wound up.",
        source="29 CFR 1910.133(a)(1), eyes; 1910.95(a)-(b), noise; 1910.1000, Table "
        "Z-3, dust; the rest common practice, no source",
    ),
)
