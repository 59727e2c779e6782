"""Until when papers hold. Only their dates: which papers an aircraft needs, local law decides."""

from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field
from preflint.aircraft.moment import Moment
from preflint.places import Place
from preflint.precautions import DESK


@group("Papers", examples=[{"insurance_until": "2027-03-31", "label_on_aircraft": True}])
class Papers:
    """Until when the papers hold that local law asks for; leave out what it does not ask for."""

    place: Place
    registration_until: Field[Moment] = says(
        "Registration until", "The last day on which the registration holds: YYYY-MM-DD.",
        do="read the last day off the registration", mind=DESK, on_paper=True, examples=["2027-03-31"],
    )
    competence_until: Field[Moment] = says(
        "Competence until", "The last day on which the pilot's certificate of competence holds: YYYY-MM-DD.",
        do="read the last day off the certificate", mind=DESK, on_paper=True, examples=["2029-08-14"],
    )
    insurance_until: Field[Moment] = says(
        "Insurance until", "The last day on which the insurance holds: YYYY-MM-DD.",
        do="read the last day off the policy", mind=DESK, on_paper=True, examples=["2027-03-31"],
    )
    label_on_aircraft: Field[bool] = says(
        "Label on the aircraft", "true where the number that local law asks for stands on the aircraft.",
        do="look whether the number stands on the aircraft", examples=[True],
    )
