"""The places on a map, as GeoJSON (RFC 7946): longitude before latitude, WGS 84."""

from county.domain.entry_form import canonical
from county.domain.moments import write_moment
from county.domain.picture import PlaceNow
from county.pack.record import Record


def geojson(record: Record) -> str:
    """Every place as a feature; one whose position is not on the roster has no geometry, as the standard has it."""
    features = ",\n".join(_feature(record, place) for place in record.places)
    return f'{{"type":"FeatureCollection","features":[\n{features}\n]}}\n'


def _feature(record: Record, now: PlaceNow) -> str:
    place, day = now.place, now.day
    geometry: dict[str, object] | None = None
    if place.longitude is not None and place.latitude is not None:
        geometry = {"type": "Point", "coordinates": [place.longitude, place.latitude]}
    properties: dict[str, object] = {
        "place": place.place,
        "name": place.name,
        "city": place.city,
        "zone": place.zone,
        "as_of": write_moment(record.as_of),
        "standing": now.standing.value,
        "opens_at": write_moment(now.expected.opens_at),
        "opened_at": write_moment(day.opened_at) if day.opened_at else None,
        "minutes_late": now.minutes_late if day.opened_at else None,
        "lost_minutes": now.lost_minutes,
        "cases": len(now.cases),
        "open_cases": len(now.open_cases),
    }
    return canonical({"type": "Feature", "id": place.place, "geometry": geometry, "properties": properties})
