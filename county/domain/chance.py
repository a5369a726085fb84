"""How likely so many coincidences are, and how people say so."""


def by_chance(places: int, usual: float) -> float:
    """The probability of so many places or more in trouble where `usual` are expected, were there no common cause.

    Poisson, P(N ≥ places), against the day's own base rate: the cases of the kind raised so far outside the window, and
    one more so that a first coincidence is not called impossible, per minute since the day began, over one window and
    the share of the county looked at. It is the probability for one window named in advance. Over a whole day of
    looking at every window, zone, route and model, something as unlikely turns up more often, so it says how
    surprising a pattern is and proves no cause.
    """
    # a long while to import, and the commands, which ask for no chances, come through here
    from scipy.special import pdtrc

    return float(pdtrc(places - 1, usual)) if places > 0 else 1.0


def one_in(probability: float) -> str:
    """A probability as people say it: `1 in 900`, `1 in 3`, `less than 1 in a million`."""
    if probability < 1e-6:
        return "less than 1 in a million"
    times = 1 / probability
    digits = max(0, len(str(int(times))) - 2)
    return f"1 in {int(round(times, -digits)):,}"
