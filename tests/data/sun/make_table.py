"""Computes the table of sun moments in ephem_events.csv. See README.md beside it for the versions and settings."""

import csv
import datetime as dt
import zoneinfo

import ephem

# name, latitude, longitude (east positive), time zone; rounded to 1/10000 of a degree
PLACES = [
    ("Greenwich", 51.4779, 0.0, "Europe/London"),
    ("Reykjavik", 64.1466, -21.9426, "Atlantic/Reykjavik"),
    ("Tromso", 69.6492, 18.9553, "Europe/Oslo"),
    ("Longyearbyen", 78.2232, 15.6267, "Arctic/Longyearbyen"),
    ("Utqiagvik", 71.2906, -156.7886, "America/Anchorage"),
    ("Golden", 39.7425, -105.1786, "America/Denver"),
    ("New York", 40.7128, -74.0060, "America/New_York"),
    ("Ponta Delgada", 37.7412, -25.6756, "Atlantic/Azores"),
    ("Honolulu", 21.3069, -157.8583, "Pacific/Honolulu"),
    ("Kiritimati", 1.8721, -157.4278, "Pacific/Kiritimati"),
    ("Quito", -0.1807, -78.4678, "America/Guayaquil"),
    ("Singapore", 1.3521, 103.8198, "Asia/Singapore"),
    ("Apia", -13.8507, -171.7514, "Pacific/Apia"),
    ("Cape Town", -33.9249, 18.4241, "Africa/Johannesburg"),
    ("Auckland", -36.8509, 174.7645, "Pacific/Auckland"),
    ("Chatham Islands", -43.9535, -176.5597, "Pacific/Chatham"),
    ("Ushuaia", -54.8019, -68.3030, "America/Argentina/Ushuaia"),
    ("McMurdo", -77.8419, 166.6863, "Antarctica/McMurdo"),
]
DATES = [
    (2003, 10, 17), (2015, 2, 28), (2024, 2, 29), (2025, 3, 9), (2025, 3, 30), (2025, 6, 21), (2025, 9, 22),
    (2025, 11, 2), (2025, 12, 21), (2026, 1, 20), (2026, 4, 15), (2026, 5, 10), (2026, 8, 3), (2026, 11, 1),
]
EVENTS = [("sunrise", "-0:50", True), ("sunset", "-0:50", False), ("civil dawn", "-6", True), ("civil dusk", "-6", False)]
UTC = dt.timezone.utc


def observer(latitude, longitude, horizon):
    site = ephem.Observer()
    site.lat, site.lon = str(latitude), str(longitude)
    site.elevation, site.pressure, site.horizon = 0, 0, horizon
    return site


def events_between(site, start, end, rising):
    """Times at which the sun's centre crosses the observer's horizon, start included, end not."""
    found, cursor = [], ephem.Date(start.replace(tzinfo=None))
    step = site.next_rising if rising else site.next_setting
    while True:
        try:
            moment = step(ephem.Sun(), start=cursor, use_center=True)
        except (ephem.AlwaysUpError, ephem.NeverUpError):
            # ephem looks one day ahead only: a later crossing inside the day is looked for from noon on
            return found
        instant = moment.datetime().replace(tzinfo=UTC)
        if instant >= end:
            return found
        found.append(instant)
        cursor = ephem.Date(moment + 10 * ephem.minute)


def altitude_at(site, instant):
    site.date = ephem.Date(instant.replace(tzinfo=None))
    return float(ephem.Sun(site).alt) - float(site.horizon)


def rows():
    for name, latitude, longitude, zone_name in PLACES:
        zone = zoneinfo.ZoneInfo(zone_name)
        for date in DATES:
            start = dt.datetime(*date, tzinfo=zone).astimezone(UTC)
            after = dt.date(*date) + dt.timedelta(days=1)
            end = dt.datetime(after.year, after.month, after.day, tzinfo=zone).astimezone(UTC)
            for event, horizon, rising in EVENTS:
                site = observer(latitude, longitude, horizon)
                found = events_between(site, start, end, rising)
                if len(found) > 1:
                    continue
                if found:
                    answer = found[0].strftime("%Y-%m-%dT%H:%M:%SZ")
                else:
                    step = dt.timedelta(minutes=2)
                    count = int((end - start) / step)
                    heights = [altitude_at(site, start + k * step) for k in range(count + 1)]
                    answer = "stays up" if min(heights) > 0 else "stays down" if max(heights) < 0 else "not that day"
                yield [name, latitude, longitude, zone_name, dt.date(*date).isoformat(), event, answer]


with open("ephem_events.csv", "w", newline="", encoding="utf-8") as out:
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["place", "latitude_deg", "longitude_deg", "time_zone", "local_date", "event", "utc"])
    writer.writerows(rows())
