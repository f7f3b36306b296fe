"""Ten questions about the disk and belt sander."""

from __future__ import annotations

from projects.engine.shop.questions.question import Question

QUESTIONS = (
    Question(
        text="On which side of a turning disk do you sand?",
        choices=(
            "On the side that turns up, away from the table",
            "In the middle, where it turns slowest",
            "On the side that turns down, toward the table",
        ),
        right=2,
        why="There the disk presses the part onto the table. On the other side it "
        "lifts the part and throws it, with dust, at your face.",
        source="common practice, no source",
    ),
    Question(
        text="How much of the disk is open?",
        choices=(
            "Only its face above the table; the rest is enclosed",
            "All of it, so that dust can get away freely to each side",
            "The half on which nobody sands",
        ),
        right=0,
        why="The rim and the part below the table do no work, but take skin off all "
        "the same.",
        source="29 CFR 1910.213(p)(3)",
    ),
    Question(
        text="Where can a belt sander draw in fingers or cloth?",
        choices=(
            "At the middle of the platen only, where the belt is pressed hardest",
            "Where the belt runs onto its rollers",
            "Nowhere: the grit only pushes things away from it",
        ),
        right=1,
        why="Where belt and roller meet they pull in what touches them. These points "
        "and the belt's idle run are guarded.",
        source="29 CFR 1910.213(p)(4)",
    ),
    Question(
        text="Why does the dust extraction run, even for a minute's sanding?",
        choices=(
            "Because sanding dust is fine enough to reach deep into the lungs",
            "Because the motor is cooled by the air that the extraction draws through "
            "it",
            "Because otherwise the belt would slip off its rollers",
        ),
        right=0,
        why="Fine dust floats for a long time, and harms those nearby as well. Where "
        "extraction isn't enough, a mask is worn too.",
        source="29 CFR 1910.1000, Table Z-3 (dust limits); the rest common practice, "
        "no source",
    ),
    Question(
        text="There is a wide gap between the table and the disk. What do you do?",
        choices=(
            "Hold the part higher, so that it stays out of the gap",
            "Use the gap to sand thin parts on both sides in one go",
            "Sand gently, and pull the part back whenever it begins to tip down",
            "Stop the disk, cut the power, and set the table close to it",
        ),
        right=3,
        why="A part, or a finger, is dragged down into the gap and jammed. The table "
        "is set with the machine at rest.",
        source="29 CFR 1910.213(b)(5), kept off while adjusted (paragraph from "
        "memory); the rest common practice, no source",
    ),
    Question(
        text="A part is as small as a coin. How do you sand its edge?",
        choices=(
            "With the fingernails as a stop against the belt",
            "By hand on a sanding block, or held in a jig or clamp",
            "On the belt, wearing a glove for a better grip on such a small thing",
        ),
        right=1,
        why="When a small part slips away, the fingers that held it are on the "
        "abrasive before you notice.",
        source="common practice, no source",
    ),
    Question(
        text="What do you do about sleeves, cords and gloves before sanding?",
        choices=(
            "Nothing, since the sander has no teeth or knives that could catch them",
            "Put on gloves with long cuffs, as grit is hard on the hands",
            "Roll sleeves up, tuck cords in, take gloves off",
        ),
        right=2,
        why="A belt or disk draws in cloth as a saw does, and a glove takes the hand "
        "along. Eye protection is on: grit and splinters fly.",
        source="29 CFR 1910.133(a)(1), eye protection; the rest common practice, no "
        "source",
    ),
    Question(
        text="The wood turns brown where you sand. What do you change?",
        choices=(
            "Lighter pressure, and the part kept moving",
            "More pressure, so that the spot is finished before it burns",
            "Hold still on that spot until the brown has been sanded away again",
        ),
        right=0,
        why="Heat comes from pressing in one spot, and from a worn or clogged "
        "abrasive. Hot dust can start a fire in the extraction.",
        source="common practice, no source",
    ),
    Question(
        text="The belt has a tear at its edge. What now?",
        choices=(
            "Sand on the good half of it until the tear has come halfway across",
            "Tape the tear from the outside",
            "Switch off, and have it replaced with the power cut, arrow as on the "
            "machine",
        ),
        right=2,
        why="A torn belt breaks and lashes out. Belts run in the direction of their "
        "arrow; the sander's manual, which comes first, tells how they go on.",
        source="common practice, no source",
    ),
    Question(
        text="Why is no metal sanded on a machine that collects wood dust?",
        choices=(
            "Metal would polish the grit, so that wood no longer gets smooth on it",
            "Sparks can set the collected dust on fire",
            "The table would become magnetic",
        ),
        right=1,
        why="Wood dust burns, and in a collector it glows unseen for hours. Nails and "
        "screws come out of the part first.",
        source="common practice, no source",
    ),
)
