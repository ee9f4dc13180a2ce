"""Computes pygeomag_fields.csv. See README.md beside it for version and settings."""

import csv

from pygeomag import GeoMag

MODEL = GeoMag(coefficients_file="wmm/WMM_2025.COF")

# Both poles from several meridians, the magnetic poles' surroundings, 180 degrees from both sides, the equator, and the
# invented isle of Marrowick.
PLACES = [
    (90, 0), (90, 90), (90, -180), (-90, 0), (-90, 45), (-90, 180), (89.9999, 12), (-89.9999, -77), (85.8, 139),
    (86, -170), (-63.8, 136), (-64, 135.8), (0, 0), (0, 180), (0, -180), (45, 180), (45, -180), (-45, -180), (0, -90),
    (45.125, -30.11), (20, 100), (-25, -60), (60, 10), (-35, 150), (71, -130),
]
# Half years are exact instants: 182.5 days of 365, 183 of 366.
MOMENTS = [
    (2025.0, "2025-01-01T00:00:00Z"), (2027.5, "2027-07-02T12:00:00Z"), (2028.5, "2028-07-02T00:00:00Z"),
    (2029.5, "2029-07-02T12:00:00Z"),
]


def official_rows():
    with open("WMM2025_TestValues.txt", encoding="ascii") as table:
        for line in table:
            if line.strip() and not line.startswith("#"):
                year, height, latitude, longitude = map(float, line.split()[:4])
                half = "2028-07-02T00:00:00Z" if year == 2028.5 else f"{int(year)}-07-02T12:00:00Z"
                instant = half if year % 1 else f"{int(year)}-01-01T00:00:00Z"
                yield year, instant, height, latitude, longitude


def own_rows():
    for k, (latitude, longitude) in enumerate(PLACES):
        year, instant = MOMENTS[k % len(MOMENTS)]
        yield year, instant, 0.0, float(latitude), float(longitude)


with open("pygeomag_fields.csv", "w", newline="", encoding="utf-8") as out:
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["utc", "height_km", "latitude_deg", "longitude_deg", "declination_deg", "inclination_deg",
                     "horizontal_nt", "north_nt", "east_nt", "down_nt", "total_nt"])
    for year, instant, height, latitude, longitude in [*official_rows(), *own_rows()]:
        got = MODEL.calculate(glat=latitude, glon=longitude, alt=height, time=year)
        numbers = [got.d, got.i, got.h, got.x, got.y, got.z, got.f]
        writer.writerow([instant, height, latitude, longitude, *(f"{number:.9f}" for number in numbers)])
