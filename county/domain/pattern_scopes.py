"""Along what a trouble may run: the whole county, a zone, a delivery route, a device model."""

from collections import Counter
from collections.abc import Mapping, Sequence

from county.domain.cases import Case
from county.domain.roster import Roster

Scope = tuple[str, str]
COUNTY: Scope = ("county", "")


def along_each(cases: Sequence[Case], roster: Roster) -> dict[Scope, list[Case]]:
    """The cases along each zone, route and model, and in the county as a whole."""
    along: dict[Scope, list[Case]] = {COUNTY: list(cases)}
    for case in cases:
        place, device = roster.place_by_id.get(case.place), roster.device_by_id.get(case.device)
        names = {
            "zone": place.zone if place else "",
            "route": place.route if place else "",
            "model": device.model if device else "",
        }
        for scope, name in names.items():
            if name:
                along.setdefault((scope, name), []).append(case)
    return along


def shares(roster: Roster) -> Mapping[Scope, float]:
    """The share of the county's places in each zone and route, and of its devices of one type of each model."""
    counted: dict[Scope, float] = {}
    for place in roster.places:
        for scope in (("zone", place.zone), ("route", place.route)):
            counted[scope] = counted.get(scope, 0.0) + 1 / len(roster.places)
    types = Counter(device.type for device in roster.devices)
    for device in roster.devices:
        model = ("model", device.model)
        counted[model] = counted.get(model, 0.0) + 1 / types[device.type]
    return {scope: share for scope, share in counted.items() if scope[1]}
