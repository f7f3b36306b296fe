"""Ten questions about the table saw."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="You rip a board. Where does the blade guard belong?",
        choices=(
            "Tilted back, so that you can see the line you cut along",
            "In the drawer; it is meant for long boards only, as the card beside the "
            "saw used to say",
            "Over the blade, resting on the table or the board",
        ),
        right=2,
        why="The guard covers the part of the blade above the table and the board, "
        "and adjusts itself to the board's thickness.",
        source="29 CFR 1910.213(c)(1)",
    ),
    Question(
        text="What does the riving knife or spreader behind the blade do?",
        choices=(
            "It keeps the cut open, so that the wood can't pinch the blade and be "
            "thrown back",
            "It trims the second face of the cut, so that no sanding is needed after "
            "the board has passed the blade",
            "It shows the height to which the blade is set",
        ),
        right=0,
        why="The back of the blade rises toward you. Wood that closes on it is lifted "
        "and thrown at whoever stands in line.",
        source="29 CFR 1910.213(c)(2)",
    ),
    Question(
        text="Where do you stand when you rip, and what do you wear?",
        choices=(
            "Straight behind the blade, to sight along it, with a face shield against "
            "whatever comes back",
            "To one side, out of line with the blade; eye and hearing protection on, "
            "no gloves",
            "At the outfeed side, pulling the board, with gloves for a better grip",
        ),
        right=1,
        why="A kickback goes straight back from the blade, faster than you can step "
        "away. Dust and chips fly, the blade is loud, and gloves get caught in it.",
        source="29 CFR 1910.213(c)(3), fingers against kickback; 1910.133(a)(1), "
        "eyes; 1910.95, Table G-16; the rest common practice, no source",
    ),
    Question(
        text="A strip will be narrow. How do you push it past the blade?",
        choices=(
            "With a push stick, at hand before the saw is switched on",
            "With thumb and one finger, the other fingers hooked over the fence",
            "With the next board, laid end to end",
            "With the flat hand, until it is level with the blade",
        ),
        right=0,
        why="Fingers stay well away from the blade; the push stick goes there. "
        "Looking for one in the middle of a cut is too late.",
        source="29 CFR 1910.213(s)(9), push sticks at hand (paragraph from memory); "
        "the rest common practice, no source",
    ),
    Question(
        text="You cut five short pieces off a board with the mitre gauge. Where is "
        "the fence?",
        choices=(
            "Set as the stop that each piece touches until it comes off",
            "Against the blade, so that no piece can fall between",
            "Moved well away, or with a stop block that ends ahead of the blade",
        ),
        right=2,
        why="A loose piece between blade and fence twists, jams and is thrown. The "
        "piece that comes off must be free to move.",
        source="common practice, no source",
    ),
    Question(
        text="A board has no straight edge yet. How do you rip it?",
        choices=(
            "Freehand along a bold pencil line",
            "Not yet: first give it a flat face and a straight edge to run on",
            "Against the fence with the crooked edge, feeding slowly, so that it can "
            "find its own way",
        ),
        right=1,
        why="A board that rocks on the table or wanders along the fence turns against "
        "the blade and kicks back.",
        source="common practice, no source",
    ),
    Question(
        text="For a dado the standard guard can't stay on. What takes its place?",
        choices=(
            "Featherboards or a jig, and push blocks",
            "Nothing: the blade is inside the wood, so that nobody can get at it",
            "A second person who holds the board down behind the blade set",
        ),
        right=0,
        why="They hold the part down and against the fence and keep hands off. The "
        "guard goes back on right after.",
        source="29 CFR 1910.213(a)(15), featherboards or jigs (paragraph from "
        "memory); the rest common practice, no source",
    ),
    Question(
        text="A small offcut lies beside the spinning blade. What do you do?",
        choices=(
            "Flick it away with a fingertip, from behind, where the teeth go down",
            "Blow it away, bending low over the table",
            "Leave it until the saw is off and the blade has stopped",
        ),
        right=2,
        why="Most of the reaching near a blade is for something that can wait half a "
        "minute. Even an offcut touched by accident can be thrown.",
        source="common practice, no source",
    ),
    Question(
        text="What comes before changing the blade?",
        choices=(
            "Wedging a scrap against the teeth and nudging the switch to loosen the "
            "nut",
            "Switching off, and cutting the power by plug or locked disconnect",
            "Raising the blade while it runs down, so that the nut is easy to reach",
        ),
        right=1,
        why="With the switch alone somebody else can start the saw. The saw's manual "
        "comes first for how its blade comes off.",
        source="29 CFR 1910.213(a)(10), a disconnect that locks is recommended; "
        "(b)(5), kept off while adjusted (paragraph from memory)",
    ),
    Question(
        text="The board gets harder to push, smells burnt, and the motor slows. What "
        "do you do?",
        choices=(
            "Push harder, since stopping in the middle of a cut leaves a mark on the "
            "edge of the board",
            "Lift the board off the blade by its front end",
            "Hold the board still, switch off, and wait until the blade stops",
            "Pull the board back toward you while the blade turns",
        ),
        right=2,
        why="The wood pinches the blade, or the blade is dull or gummed up. Lifting "
        "or pulling back is how kickbacks start. Such a blade is taken out of use.",
        source="29 CFR 1910.213(s)(1), dull or gummed saws taken out of service; the "
        "rest common practice, no source",
    ),
)
