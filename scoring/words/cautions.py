"""The usual cautions, by the place where they are shown; near the figure concerned.

Common practice and public guidance in our own words; nothing here is law or advice.
"""

DECIDES = "Local codes, the maker's manual and licensed people decide."
CAUTIONS = {
    "lifting": (
        "Lifting: screening figures only. What a person can lift differs by person, "
        "height and reach, and no law names one limit; get a manual-handling "
        "assessment. On stairs these figures do not apply: the lower person bears most."
    ),
    "assembled": (
        "A tall column can tip: level floor, nobody within its travel and a metre "
        "around, rail and cables are tripping hazards, hands off the pinch lines."
    ),
    "printing": (
        "Somebody stays while it prints. Left built overnight, it is powered down, "
        "capped and locked."
    ),
    "lamp": (
        "UV lamps harm eyes and skin, by reflection off tile and glass too: shields "
        "on, eyewear rated for the lamp's wavelength."
    ),
    "ink": (
        "Uncured ink can sensitise the skin for good. Read the safety data sheet "
        "before paying; nitrile gloves, changed often; ventilate; nothing down the "
        "drain."
    ),
    "odour": (
        "Smell: an ink that no longer smells is not therefore cured. Clinics, "
        "nurseries and food rooms follow the client's own rules; a label on the ink "
        "does not certify the wall, and one nose is a memory aid, not a measurement."
    ),
    "wall": (
        "Old paint may hold lead and old texture asbestos: do not sand or drill a wall "
        "you do not know. Test a patch first."
    ),
    "mains": (
        "Mains: a supply protected by an RCD or GFCI, a dry floor, cables covered; a "
        "licensed electrician for anything else."
    ),
    "height": "Touching up above reach takes a platform, not a ladder.",
    "van": "Van: weigh the load against the payload and lash it; ink must not freeze.",
    "money": (
        "Money: before tax, after your own pay (none where you name no hour); an "
        "estimate from the inputs shown. Ask an accountant, a customs broker and an "
        "insurer. Pay abroad in stages, the balance after an acceptance print."
    ),
    "artwork": (
        "Artwork: written approval of the design, the right to use it, and liability "
        "cover for other people's walls."
    ),
}
# What belongs to a job on site, beside lifting.
ON_SITE = ("printing", "assembled", "ink", "lamp", "wall", "height", "mains")
