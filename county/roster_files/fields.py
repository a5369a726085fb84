"""FIELDS, what a column of a county's own list may say; the words a person sees beside each."""

from collections.abc import Mapping
from types import MappingProxyType

FIELDS: Mapping[str, str] = MappingProxyType(
    {
        "name": "name of the polling place",
        "place": "the list's own id of the polling place",
        "name_address": "name and address of the polling place in one cell",
        "address": "street address; several columns may make it up",
        "city": "town",
        "precinct": "precinct: its number or id",
        "precinct_name": "precinct: its name",
        "precincts": "all the precincts that vote at the place, in one cell",
        "split": "which part of a split precinct",
        "registered": "registered voters, as a number",
        "hours": "opening and closing time in one cell",
        "opens": "opening time",
        "closes": "closing time",
        "latitude": "latitude, degrees north",
        "longitude": "longitude, degrees east (negative in America)",
        "coordinates": "latitude and longitude in one cell",
        "phone": "telephone at the place",
        "zone": "rovers' zone",
        "route": "delivery route",
        "time_zone": "time zone of the place, where it is not the county's",
        "ballots_delivered": "ballots delivered, as a number",
        "kind": "what it is: election day, early voting, drop box",
        "mail_only": "whether the precinct votes by mail only",
        "county": "county, where the list has several",
        "election_date": "date of the election the list is for",
    }
)
