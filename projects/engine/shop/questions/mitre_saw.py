"""Ten questions about the mitre saw."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="Which hold is right for a cut at the mitre saw?",
        choices=(
            "One hand on the handle, the other on the part, outside the marked hand "
            "zone",
            "Arms crossed, so that the free hand holds the longer side",
            "Both hands on the handle, with the part lying loose on the table, as its "
            "own weight keeps it there",
        ),
        right=0,
        why="Crossed arms bring one arm into the blade's path, and a loose part spins "
        "as soon as a tooth catches it.",
        source="common practice, no source",
    ),
    Question(
        text="The cut is through. When does the blade come up again?",
        choices=(
            "At once, while it still has speed to clear its own cut",
            "Halfway, to take the pieces out from under it",
            "After you let go of the switch and the blade stands still",
        ),
        right=2,
        why="A blade that rises while it turns can catch the offcut and throw it, or "
        "spoil the cut.",
        source="common practice, no source",
    ),
    Question(
        text="A board is bowed along its edge. How does it lie at the fence?",
        choices=(
            "With a gap at the fence right behind the blade",
            "With the bowed-out side against the fence, so that it touches at the "
            "blade",
            "A little away from the fence, so that it can't rub",
        ),
        right=1,
        why="If there is a gap at the cut, the board closes on the blade as it comes "
        "apart. It must touch the fence where it is cut.",
        source="common practice, no source",
    ),
    Question(
        text="You need a piece 2 in long. How do you get it?",
        choices=(
            "Hold it by its end and cut very slowly, with the guard lifted by hand to "
            "see where the fingers are",
            "Press it against the fence with the thumb",
            "Cut it from a long piece held on the other side, or ask for a clamp or "
            "jig",
        ),
        right=2,
        why="The hand that holds a short piece is in the blade's path. The long side "
        "is held; the short one is what comes off.",
        source="common practice, no source",
    ),
    Question(
        text="The moving guard over the blade is sticky and doesn't close by itself. "
        "What now?",
        choices=(
            "Stop using the saw and tell the instructor",
            "Tie it up for this cut, with a cord that can be undone quickly afterwards",
            "Push it down by hand after each of the cuts",
        ),
        right=0,
        why="The guard has to cover the teeth as soon as the blade leaves the wood. "
        "With one that fails, the point where it cuts is open.",
        source="29 CFR 1910.212(a)(3)(ii), point of operation guarded; the rest "
        "common practice, no source",
    ),
    Question(
        text="A board sticks out 5 ft past the saw's table. What holds it?",
        choices=(
            "A friend, who lifts it a little so that the cut opens",
            "A stand or table extension of the same height",
            "Your knee, until the end falls to the floor",
            "Nothing: its far end is light, and hangs down only a little",
        ),
        right=1,
        why="A hanging end tips the board off the table or closes the cut on the "
        "blade. A helper who lifts pinches the blade too.",
        source="common practice, no source",
    ),
    Question(
        text="You set a stop block to cut many equal pieces. Which side of the blade "
        "is it on, and why?",
        choices=(
            "On the side you hold, so that the piece coming off is free",
            "On both sides, so that neither piece can move while the blade passes "
            "between them",
            "On the side that falls off, so that it stays wedged against the blade",
        ),
        right=0,
        why="A loose piece trapped between stop and blade twists and is thrown. Hold "
        "or clamp the piece at the stop.",
        source="common practice, no source",
    ),
    Question(
        text="When does the blade first touch the wood?",
        choices=(
            "Before the switch is pressed, so that it starts without a jolt",
            "While it is gaining speed, so that the teeth meet the wood gently",
            "Once it turns at full speed",
        ),
        right=2,
        why="A blade at rest or at low speed grabs the wood. Let it reach its speed, "
        "then lower it without force.",
        source="common practice, no source",
    ),
    Question(
        text="The next cut is at another angle. What do you do before turning the "
        "table?",
        choices=(
            "Let go of the switch, wait until the blade stops, then set and lock the "
            "angle",
            "Keep the blade turning above the table, so that no time is lost between "
            "two cuts",
            "Hold the blade by its teeth to turn the head",
        ),
        right=0,
        why="Settings are made at rest. For anything at the blade itself the plug is "
        "out as well, and the saw's manual comes first.",
        source="29 CFR 1910.213(b)(5), kept off while adjusted (paragraph from "
        "memory); the rest common practice, no source",
    ),
    Question(
        text="What do you wear for a single quick cut at the mitre saw?",
        choices=(
            "Ordinary glasses, as they cover most of the eye",
            "Eye protection with side shields, and hearing protection; sleeves and "
            "cords out of the way",
            "Work gloves with long cuffs, because splinters are the main danger when "
            "you hold a rough board",
        ),
        right=1,
        why="Small offcuts fly to all sides, and one cut is as loud as the next. "
        "Gloves and cuffs can be caught by the teeth.",
        source="29 CFR 1910.133(a)(1) and (2); 29 CFR 1910.95, Table G-16; the rest "
        "common practice, no source",
    ),
)
