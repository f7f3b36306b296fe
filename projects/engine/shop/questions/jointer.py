"""Ten questions about the jointer."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="What must the jointer's guard do while a board is being fed?",
        choices=(
            "Stay swung open, so that you see the knives",
            "Cover the knives on the working side of the fence and stay in contact "
            "with the board",
            "Hang well above the board without touching it, whatever its size, so "
            "that it can't leave marks on the wood",
        ),
        right=1,
        why="The guard moves by itself: it leaves open only what the board covers, "
        "and closes behind it.",
        source="29 CFR 1910.213(j)(3)",
    ),
    Question(
        text="You flatten the wide face of a board. What do your hands hold?",
        choices=(
            "Push blocks",
            "The far end of the board, pulled toward you",
            "The board's edges, with the thumbs hooked below the face",
            "The board right above the cutter head, where it must be pressed hardest",
        ),
        right=0,
        why="Push blocks keep hands up and away from the knives, even if the board is "
        "thrown back.",
        source="29 CFR 1910.213(s)(9) and (s)(12), push sticks or blocks at hand "
        "(paragraphs from memory); the rest common practice, no source",
    ),
    Question(
        text="Which path do your hands take as the board moves over the cutter head?",
        choices=(
            "They ride on the board straight over the cutter head to the other side",
            "They stay on the infeed side until the board drops off the outfeed table",
            "They step from infeed to outfeed side, never passing over the cutter head",
        ),
        right=2,
        why="If the board kicks back or splits, a hand over the head falls onto the "
        "knives. Lift the hand and set it down on the outfeed side.",
        source="common practice, no source",
    ),
    Question(
        text="A board is 7 in long and needs one straight edge. What do you do?",
        choices=(
            "Joint it slowly with one finger behind it, since slow cuts don't grab",
            "Leave it off the jointer: use a hand plane, or joint a longer board first",
            "Joint it with its end held in a clamp used as a handle",
        ),
        right=1,
        why="A short board tips into the gap between the tables and is thrown. Many "
        "school shops set 12 in as the shortest; your machine's sheet gives its limit.",
        source="common practice, no source (minimum lengths as school rules give them)",
    ),
    Question(
        text="Which way should the grain run on the edge you are about to joint?",
        choices=(
            "Sloping down and back, away from the direction of feed",
            "Sloping forward and down, so that the knives meet its ends",
            "It makes no difference, because the knives turn so fast that any grain "
            "is cut clean",
        ),
        right=0,
        why="With the grain the knives cut it off cleanly. Against the grain they "
        "lift and tear it, and may kick the board back.",
        source="common practice, no source",
    ),
    Question(
        text="When do you set the infeed table to another depth of cut?",
        choices=(
            "While the board is halfway, if the cut sounds too heavy",
            "While the knives run free, so that you can hear when they touch",
            "With the machine off and the cutter head at rest",
        ),
        right=2,
        why="Nothing is set while the cutter head turns. For work at the knives "
        "themselves the power is cut off and held off as well.",
        source="29 CFR 1910.213(b)(5), kept off while adjusted (paragraph from "
        "memory); the rest common practice, no source",
    ),
    Question(
        text="You come to the jointer in a hooded top with loose cords, long hair "
        "down. What first?",
        choices=(
            "Tie hair back, take the top off or tuck the cords in, put eye and "
            "hearing protection on",
            "Put on thick work gloves and a pair of goggles, so that hands and eyes "
            "are covered from all sides",
            "Step half a pace farther away from the fence than usual",
        ),
        right=0,
        why="Cords, hair and gloves can be drawn into the cutter head. Chips fly, and "
        "the knives are loud.",
        source="29 CFR 1910.133(a)(1), eye protection; 1910.95(a)-(b), noise; the "
        "rest common practice, no source",
    ),
    Question(
        text="What do you look for in a board before it goes over the jointer?",
        choices=(
            "A pencilled number, so that the class list stays in order",
            "Dust in the pores, which must be wetted first so that it doesn't fly "
            "around the shop",
            "Nails, staples, grit, loose knots and cracks",
            "Bark on both edges, which helps the board to glide along the fence",
        ),
        right=2,
        why="Metal and grit chip the knives; loose knots and cracked pieces fly out.",
        source="common practice, no source",
    ),
    Question(
        text="Why is the gap between the tables at the cutter head kept small, and "
        "behind the fence covered by a guard?",
        choices=(
            "So that chips stay inside and the floor needs less sweeping at the end "
            "of the day",
            "So that fingers and the ends of boards can't get to the turning knives",
            "So that the cutter head stays cool in long use",
        ),
        right=1,
        why="Each opening to the head is a place where fingers or wood can go in, on "
        "the side behind the fence too.",
        source="29 CFR 1910.213(j)(2) and (j)(4)",
    ),
    Question(
        text="The cut has turned rough, and the jointer shakes. What now?",
        choices=(
            "Feed harder, so that the board damps the shaking",
            "Finish your board, and tell the next person in the queue about it",
            "Switch off, stay until the head stops, and tell the instructor",
        ),
        right=2,
        why="A machine should run without noticeable vibration and with sharp, firmly "
        "held knives. Whoever looks after it sees to that; its manual comes first.",
        source="29 CFR 1910.213(a)(1), vibration; (s)(2), knives sharp and secured",
    ),
)
