"""How many ballots a place needs."""


def ballots_to_supply(registered: int, last_turnout_percent: int) -> int:
    """Last turnout and a quarter of it again, at most one for each registered voter; a part of a ballot is a ballot.

    Source: Tex. Elec. Code 51.005. Other states ask for other numbers: it is the county's to say. ValueError where
    `registered` is negative or the turnout is not a percentage from 0 to 100.
    """
    if registered < 0 or not 0 <= last_turnout_percent <= 100:
        raise ValueError(f"{registered} registered at {last_turnout_percent} % is no turnout")
    # in whole numbers, so that no rounding adds or takes a ballot: registered × percent / 100 × 5 / 4
    needed = -(-registered * last_turnout_percent * 5 // 400)
    return min(registered, needed)
