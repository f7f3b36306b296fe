"""Ten questions about the router table."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="You stand in front of the table, the fence behind the bit. Which way do "
        "you feed?",
        choices=(
            "From left to right, because the bit then pulls the part along",
            "From right to left, against the turning of the bit",
            "Straight at the fence, then in whichever direction goes easier",
        ),
        right=1,
        why="Upside down, the bit turns counterclockwise seen from above. Fed from "
        "the right, the part meets its edges head on; fed from the left, it is "
        "grabbed.",
        source="common practice, no source",
    ),
    Question(
        text="Why does a part never go between the bit and the fence?",
        choices=(
            "It would scratch the face of the fence",
            "The dust port is there, and the part would cover it up, so that the "
            "chips stay on the table",
            "It is trapped there, fed the wrong way, and shot out",
        ),
        right=2,
        why="On that side the bit pulls along with the feed, and the part can't give "
        "way. The bit belongs inside the fence's opening.",
        source="common practice, no source",
    ),
    Question(
        text="What presses the part to table and fence along a straight cut?",
        choices=(
            "Featherboards, with the part moved by a push block",
            "The fingers of the left hand, level with the bit",
            "Nothing: the turning of the bit holds the part well enough on its own",
            "A second person on the far side of the fence",
        ),
        right=0,
        why="Featherboards hold the part where hands must not be, and hinder it from "
        "coming back.",
        source="29 CFR 1910.213(a)(15), featherboards or jigs (paragraph from "
        "memory); the rest common practice, no source",
    ),
    Question(
        text="You want to rout the end of a part 1 in wide. How?",
        choices=(
            "Hold it upright with the fingertips and slide it along the fence",
            "Leave it off the table until someone holds the other end with pliers",
            "Back it with a square block behind it, or rout a wide piece and cut it "
            "narrow later",
        ),
        right=2,
        why="A narrow part dips into the fence's opening and turns. A block carries "
        "it past and keeps the hands away.",
        source="common practice, no source",
    ),
    Question(
        text="A curved part follows a bit with a bearing, without the fence. What "
        "steadies the start?",
        choices=(
            "Starting at a corner, where the bit grips best",
            "A starting pin on the table, against which the part leans first",
            "A fast push into the bit, so that it has no time to catch the part",
        ),
        right=1,
        why="At first touch the bit tries to throw the part aside. The pin holds "
        "against that until the part rests on the bearing.",
        source="common practice, no source",
    ),
    Question(
        text="Which speed does a large bit need?",
        choices=(
            "A slower one than a small bit",
            "The highest, since it has more wood to cut",
            "The same as any other, as the collet is the same size for all of them",
        ),
        right=0,
        why="The wider the bit, the faster its rim moves. The bit's and the router's "
        "papers give the highest speed, and they come first.",
        source="common practice, no source",
    ),
    Question(
        text="The bit must come up by 1/8 in. What do you do first?",
        choices=(
            "Crank it up while it turns, to hear when it begins to cut",
            "Cut the router's power, then raise it and lock the height",
            "Hold the bit with a rag, and turn the router under it",
        ),
        right=1,
        why="Hands are near the bit when the height is set, so the router must not be "
        "able to start. The lock keeps it from creeping in the cut.",
        source="29 CFR 1910.213(b)(5), kept off while adjusted (paragraph from "
        "memory); the rest common practice, no source",
    ),
    Question(
        text="What covers the bit while you rout a straight edge?",
        choices=(
            "The palm, held a hand's breadth above it",
            "Nothing, because with a bit that small no guard would be of any use",
            "A guard over it, and a fence opening hardly wider than the bit",
        ),
        right=2,
        why="Whatever part of the bit the wood doesn't cover can be touched. The "
        "guard covers it from above, the closed fence from behind.",
        source="29 CFR 1910.212(a)(3)(ii), point of operation guarded; the rest "
        "common practice, no source",
    ),
    Question(
        text="You need to stop the router at once. Where must its switch be?",
        choices=(
            "On the motor below the table, behind the door",
            "Within reach in front, with no leaning over the bit",
            "At the wall socket, where it can be shared by the machines beside it",
        ),
        right=1,
        why="Power is cut from where you stand and feed. Nobody reaches across or "
        "below a running cutter.",
        source="29 CFR 1910.213(b)(1) and (b)(4) (paragraphs from memory)",
    ),
    Question(
        text="What do you do about sleeves and gloves at the router table?",
        choices=(
            "Gloves off, sleeves rolled up or close to the arm, eye and hearing "
            "protection on",
            "Thick leather gloves, with the sleeves pulled over them so that no skin "
            "is left open to chips",
            "Gloves on the feeding hand only",
        ),
        right=0,
        why="A bit that catches cloth or leather pulls the hand in after it. Eyes and "
        "ears do need cover.",
        source="29 CFR 1910.133(a)(1); 29 CFR 1910.95, Table G-16; gloves: common "
        "practice, no source",
    ),
)
