"""Ten questions about the planer (thickness planer)."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="Where do you stand while the planer feeds a board?",
        choices=(
            "Behind the board, to keep it straight with your hip",
            "Beside the board's path, out of line with it",
            "Bent down at the infeed side, with your eyes level with the table, to "
            "see when the knives begin to cut",
        ),
        right=1,
        why="Boards, knots and splinters can come back out of the infeed side in a "
        "straight line.",
        source="common practice, no source",
    ),
    Question(
        text="The feed rolls have taken hold of the board. What do your hands do?",
        choices=(
            "Push steadily from behind until the board's end has gone in",
            "Press the board down close to the opening, against chatter",
            "Let go; then walk round and support it as it comes out",
        ),
        right=2,
        why="The rolls do the feeding. A hand that stays on the board is led toward "
        "the rolls, or pinched between board and table.",
        source="common practice, no source",
    ),
    Question(
        text="What is the strip or bar in front of the feed rolls for?",
        choices=(
            "It keeps fingers from reaching the rolls",
            "It measures the board's thickness before the cut begins",
            "It wipes dust off the board, so that the rolls keep their grip",
        ),
        right=0,
        why="The rolls pull in whatever touches them: fingers, sleeves, cords. The "
        "bar leaves room for the board only.",
        source="29 CFR 1910.213(n)(3)",
    ),
    Question(
        text="Why is there a shortest board for a planer?",
        choices=(
            "Short boards dull the knives faster than long ones, which makes the "
            "planer costly to keep",
            "A board shorter than the distance between the rolls is held by none of "
            "them over the knives, and can tip or fly out",
            "The motor overheats if it is switched on and off for short boards",
        ),
        right=1,
        why="One roll must hold the board until the next has it. How short is too "
        "short is in the planer's manual, which comes first.",
        source="common practice, no source",
    ),
    Question(
        text="A board stops halfway in the planer. What do you do?",
        choices=(
            "Pull it back out of the infeed side as fast as you can",
            "Push it through with another board of the same width",
            "Lie down to look where it is stuck, then free it with a stick",
            "Switch off, wait until all has stopped, cut the power, then lower the "
            "table",
        ),
        right=3,
        why="Nothing is freed while knives and rolls turn, and the machine must not "
        "be able to start with a hand near them.",
        source="29 CFR 1910.213(b)(5), kept off while put right (paragraph from "
        "memory); the rest common practice, no source",
    ),
    Question(
        text="Which of these boards goes to the planer?",
        choices=(
            "An old shelf with paint and a few nail holes",
            "A rough board with a knot that wobbles when you press it",
            "A clean board, checked for metal, with one face already flat",
            "A glued panel with hard beads of dry glue along each of the seams",
        ),
        right=2,
        why="Metal, paint and hard glue ruin knives and loose knots are thrown. With "
        "its flat face down, the board comes out flat and of even thickness.",
        source="common practice, no source",
    ),
    Question(
        text="Two boards differ in thickness. Can they go through side by side?",
        choices=(
            "No: the rolls grip the thicker one, and the thinner one can be thrown "
            "back",
            "Yes, as long as the thicker one goes in first, because it then lifts the "
            "roll for the other one",
            "Yes, if a second person holds the thinner one down at the opening",
        ),
        right=0,
        why="The rolls are at one height. What they don't press down, nothing holds "
        "against the knives.",
        source="common practice, no source",
    ),
    Question(
        text="You can't see whether the board is moving. How do you find out?",
        choices=(
            "Look into the opening, with eye protection on",
            "Feel with your fingertips where its end is",
            "Watch its ends from the side of the machine",
        ),
        right=2,
        why="Chips and pieces of knots leave the opening at high speed. Nobody looks "
        "or reaches into a running planer.",
        source="29 CFR 1910.133(a)(1), flying particles; the rest common practice, no "
        "source",
    ),
    Question(
        text="A board needs to lose 1/4 in of thickness. How?",
        choices=(
            "In one pass, with the slowest feed, so that the knives meet the wood "
            "only once",
            "In several light passes, starting from the thickest spot",
            "In two passes, the first as deep as the machine will go",
        ),
        right=1,
        why="A deep cut strains the machine and tears or throws the wood. Set the "
        "first pass by the thickest place, not by the end that goes in first.",
        source="common practice, no source",
    ),
    Question(
        text="Why do you wear hearing protection for one short board, too?",
        choices=(
            "Because the rolls run smoother if nobody talks",
            "Because all noise of the day adds up in the ears",
            "Because the knives are loud only during the first few seconds of a cut, "
            "and later on no longer harm",
        ),
        right=1,
        why="Noise counts by how loud and how long, added up over the day, and a "
        "planer is among the loudest machines of a shop.",
        source="29 CFR 1910.95(a)-(b) and Table G-16; that planers are loud: common "
        "practice, no source",
    ),
)
