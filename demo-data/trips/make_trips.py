# SPDX-License-Identifier: CC0-1.0
"""Writes the invented trips of Marrowick as GPX 1.1, the same bytes at every run.

    pip install geographiclib
    python make_trips.py

A trip is a list of moves along WGS 84 geodesics, each at an even speed. There is a fix every 5 seconds (every 10 in the long
day-out.gpx) and one at the end of each move, so that turns stand in the log to the centimetre.
"""

import math
from datetime import datetime, timedelta, timezone
from pathlib import Path

from geographiclib.geodesic import Geodesic

EARTH = Geodesic.WGS84
KNOT = 1852 / 3600


def direct(place, azimuth_deg, metres):
    end = EARTH.Direct(*place, azimuth_deg, metres)
    return end["lat2"], end["lon2"]


class Trip:
    """Positions against seconds from the start."""

    def __init__(self, start, name, about, place, accuracy_95_m=None, every_s=5.0):
        self.start = datetime.fromisoformat(start).replace(tzinfo=timezone.utc)
        self.name, self.about, self.accuracy_95_m = name, about, accuracy_95_m
        self.every_s = every_s
        self.now_s, self.place = 0.0, place
        self.fixes = [(0.0, place)]

    def go(self, azimuth_deg, metres, knots):
        """Makes a straight way at an even speed."""
        self.follow(metres / (knots * KNOT), lambda share: direct(self.place, azimuth_deg, metres * share))

    def go_to(self, place, knots):
        line = EARTH.Inverse(*self.place, *place)
        self.go(line["azi1"], line["s12"], knots)

    def drift(self, azimuth_deg, seconds, knots):
        self.go(azimuth_deg, seconds * knots * KNOT, knots)

    def follow(self, seconds, place_at):
        """Moves for some seconds; place_at takes the share of them that has gone by."""
        began, end = self.now_s, self.now_s + seconds
        tick = (math.floor(began / self.every_s + 1e-6) + 1) * self.every_s
        fixes = []
        while tick < end - 0.05:
            fixes.append((tick, place_at((tick - began) / seconds)))
            tick += self.every_s
        fixes.append((end, place_at(1.0)))
        self.fixes += fixes
        self.now_s, self.place = fixes[-1]

    def write(self, file_name):
        parts = [
            '<?xml version="1.0" encoding="UTF-8"?>',
            "<!-- SPDX-License-Identifier: CC0-1.0. Invented: nobody made this trip, and there is no such isle. -->",
            '<gpx version="1.1" creator="invented for Takeline" xmlns="http://www.topografix.com/GPX/1/1"'
            + (' xmlns:t="urn:takeline:invented"' if self.accuracy_95_m else "") + ">",
            f"<metadata><name>{self.name}</name><desc>{self.about}</desc>",
            '<copyright author="the Takeline demo"><license>https://creativecommons.org/publicdomain/zero/1.0/</license>'
            "</copyright></metadata>",
            f"<trk><name>{self.name}</name><trkseg>",
        ]
        parts += [self.point(*fix) for fix in self.fixes]
        parts.append("</trkseg></trk></gpx>")
        text = "\n".join(parts) + "\n"
        (Path(__file__).parent / file_name).write_bytes(text.encode())
        print(f"{file_name}: {len(self.fixes)} fixes, {len(text) / 1000:.0f} kB")

    def point(self, seconds, place):
        time = self.start + timedelta(milliseconds=round(seconds * 1000))
        digits = "milliseconds" if time.microsecond else "seconds"
        stamp = time.isoformat(timespec=digits).replace("+00:00", "Z")
        accuracy = ""
        if self.accuracy_95_m:
            accuracy = f"<extensions><t:accuracy_95>{self.accuracy_95_m}</t:accuracy_95></extensions>"
        return f'<trkpt lat="{place[0]:.7f}" lon="{place[1]:.7f}"><time>{stamp}</time>{accuracy}</trkpt>'


# 157 m off the launch beach, and a paddle's length from the water's edge
BEACH = (45.117, -30.119)
WATERS_EDGE = (45.117, -30.11703)


def launch_and_cross():
    trip = Trip("2026-07-04T06:00:00", "Out of Sallow Cove and back",
                "Rods stowed across the reserve, a drift outside, the same way home.", BEACH, 5)
    trip.go(270, 3_000, 2.6)
    grounds = trip.place
    trip.drift(180, 1_800, 0.6)
    trip.go_to(grounds, 2.6)
    trip.go_to(BEACH, 2.6)
    trip.write("launch-and-cross.gpx")


def bait_stop():
    trip = Trip("2026-07-04T06:00:00", "Bait from Lantern Reach",
                "From outside everything to the bait ground, and home to the beach.",
                direct((45.115, -30.17), 90, 800))
    trip.go_to((45.115, -30.17), 3.0)
    trip.go(270, 200, 3.0)
    trip.drift(180, 840, 0.8)
    # square over the meridian 30.17 W, which is the eastern side, and on to the western side of the reserve
    trip.go(90, 1_600, 3.0)
    trip.go_to((45.1118, -30.15), 3.0)
    trip.go_to(BEACH, 3.0)
    trip.write("bait-stop.gpx")


def drift_over():
    line = (45.1575, -30.165)
    trip = Trip("2026-07-04T09:00:00", "A drift over the side of Nursery Bank",
                "Drifting west over the line, seen late, and paddled back out.", direct(line, 90, 420), 5)
    trip.drift(270, 600, 0.5)
    trip.drift(270, 600, 0.7)
    gone_m = EARTH.Inverse(*trip.place, *line)["s12"]
    trip.go(270, gone_m + 30, 0.6)
    trip.go(90, 630, 2.8)
    trip.write("drift-over.gpx")


def gap():
    beside = direct((45.0735, -30.14), 270, 250)
    trip = Trip("2026-07-05T08:00:00", "North along Gannet Bank",
                "Logging stops for six minutes, 250 m off the western side.", direct(beside, 180, 1_500))
    trip.go(0, 3_000, 3.0)
    middle_s = 1_500 / (3.0 * KNOT)
    trip.fixes = [fix for fix in trip.fixes if abs(fix[0] - middle_s) >= 180]
    # the last fix before and the first after lie 360 s apart, not a fix or two more
    for seconds, metres, at in ((middle_s - 180, -180 * 3.0 * KNOT, 0), (middle_s + 180, 180 * 3.0 * KNOT, 1)):
        trip.fixes.append((seconds, direct(beside, 0, metres)))
    trip.fixes.sort()
    trip.write("gap.gpx")


def cold_start():
    start = (45.131, -30.16)
    trip = Trip("2026-07-05T06:00:00", "The first fix is 3 km off",
                "The receiver had not settled: its first fix lies in Nursery Bank. The trip enters nothing.", start)
    trip.go(270, 1_500, 3.0)
    trip.go_to(start, 3.0)
    trip.fixes[0] = (0.0, direct(start, 345, 3_000))
    trip.write("cold-start.gpx")


def wander():
    line = (45.117, -30.15)
    anchor = direct(line, 270, 8)

    def swing(share):
        turn = 2 * math.pi * 3_600 * share
        east_m, north_m = 14 * math.sin(turn / 450), 4 * math.sin(turn / 190)
        return direct(anchor, math.degrees(math.atan2(east_m, north_m)), math.hypot(east_m, north_m))

    trip = Trip("2026-07-05T10:00:00", "At anchor 8 m outside the line",
                "One hour, swinging over the western side of the reserve, with fixes good to 10 m.", anchor, 10)
    trip.follow(3_600, swing)
    trip.write("wander.gpx")


def day_out():
    trip = Trip("2026-07-06T06:00:00", "A day out from Sallow Cove",
                "Out through the reserve with rods stowed, bait beyond the pier, fishing off the seaward side, a drift back over it, home.",
                WATERS_EDGE, 5, every_s=10.0)
    trip.go_to((45.117, -30.138), 3.0)
    # due south over the southern side, 45.1100 N, and clear of the Bar
    trip.go_to((45.1035, -30.138), 3.0)
    trip.go_to((45.102, -30.119), 3.0)
    trip.drift(180, 900, 0.5)
    trip.go_to((45.1045, -30.138), 3.0)
    # north of the Holm to the seaward side, 30.1500 W, and north 63 m outside it, drifting with two lines out
    trip.go_to((45.107, -30.1508), 3.0)
    trip.go_to((45.115, -30.1508), 3.0)
    trip.drift(0, 600, 0.4)
    # the wind backs and sets the boat east: over the line, and 30 m beyond it before anybody looks
    outside_m = EARTH.Inverse(*trip.place, trip.place[0], -30.15)["s12"]
    trip.go(90, outside_m + 30, 0.4)
    trip.go(270, 90, 2.8)
    # ten minutes to stow everything, held against the wind
    trip.drift(270, 600, 0.1)
    trip.go_to(WATERS_EDGE, 3.0)
    trip.write("day-out.gpx")


def over_land():
    # out of the cove, round Sallow Point and the Kettles, and into Pine Bay
    trip = Trip("2026-07-07T06:00:00", "Round Sallow Point, by the datum of an old chart",
                "The receiver was set to the datum of an old chart of the isle: every fix lies 267 m south and 354 m east of the boat.",
                (45.1185, -30.129), 5)
    for place in ((45.1245, -30.1345), (45.1295, -30.134), (45.131, -30.128), (45.1275, -30.1195)):
        trip.go_to(place, 3.0)
    trip.fixes = [(seconds, (place[0] - 0.0024, place[1] + 0.0045)) for seconds, place in trip.fixes]
    trip.write("over-land.gpx")


if __name__ == "__main__":
    for make in (launch_and_cross, bait_stop, drift_over, gap, cold_start, wander, day_out, over_land):
        make()
