"""Computes where the sun stands, in ephem_directions.csv. See README.md beside it for the versions and settings."""

import csv
import math

import ephem

# name, latitude, longitude (east positive); the places are among those of make_table.py
PLACES = [
    ("Greenwich", 51.4779, 0.0), ("Longyearbyen", 78.2232, 15.6267), ("Utqiagvik", 71.2906, -156.7886),
    ("Golden", 39.7425, -105.1786), ("Honolulu", 21.3069, -157.8583), ("Quito", -0.1807, -78.4678),
    ("Singapore", 1.3521, 103.8198), ("Apia", -13.8507, -171.7514), ("Cape Town", -33.9249, 18.4241),
    ("Auckland", -36.8509, 174.7645), ("Ushuaia", -54.8019, -68.3030), ("McMurdo", -77.8419, 166.6863),
]
# nine instants, spread over years, seasons and hours
INSTANTS = [
    "1999-08-11T10:30:00Z", "2015-02-28T03:15:00Z", "2024-02-29T18:45:00Z", "2025-06-21T00:00:00Z",
    "2025-09-22T12:00:00Z", "2025-12-21T21:00:00Z", "2026-03-20T06:00:00Z", "2026-08-03T15:20:00Z",
    "2029-11-05T09:40:00Z",
]


def direction(latitude, longitude, instant):
    site = ephem.Observer()
    site.lat, site.lon = str(latitude), str(longitude)
    site.elevation, site.pressure = 0, 0
    site.date = instant.replace("T", " ").rstrip("Z")
    sun = ephem.Sun(site)
    return math.degrees(float(sun.az)), math.degrees(float(sun.alt))


with open("ephem_directions.csv", "w", newline="", encoding="utf-8") as out:
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["place", "latitude_deg", "longitude_deg", "utc", "azimuth_deg", "altitude_deg"])
    for name, latitude, longitude in PLACES:
        for instant in INSTANTS:
            azimuth, altitude = direction(latitude, longitude, instant)
            writer.writerow([name, latitude, longitude, instant, f"{azimuth:.5f}", f"{altitude:.5f}"])
