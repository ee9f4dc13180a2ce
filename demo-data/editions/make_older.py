"""Writes marrowick-2025.json, an invented older edition of ../zones/marrowick.json, in which every sort of change appears."""

import json
from pathlib import Path

HERE = Path(__file__).parent


def box(south, west, north, east):
    return {"type": "Polygon", "coordinates": [[[west, south], [east, south], [east, north], [west, north], [west, south]]]}


def older(file):
    head = file["takeline"]
    head["edition"] = "2025, first"
    head["issued"] = "2025-02-01"
    head["valid_until"] = "2026-04-01"
    for fish in head["taxa"]:
        if fish["id"] == "bass":
            fish["names"] = ["bass", "sea bass"]  # "schoolie" came later
    head["taxa"] = [fish for fish in head["taxa"] if fish["id"] != "squid"]
    head["groups"][0]["members"] = ["herrings", "anchovy", "sand-smelt"]  # sand eel came later
    zones = {zone["id"]: zone for zone in file["features"]}
    own = lambda name: zones[name]["properties"]

    # lines
    zones["lantern-reach"]["geometry"] = box(45.105, -30.193, 45.122, -30.168)
    zones["lantern-lane"]["geometry"]["coordinates"][0] = [
        [-30.185, 45.11], [-30.18, 45.11], [-30.18, 45.116], [-30.1825, 45.1165], [-30.185, 45.116], [-30.185, 45.11]]
    zones["owl-roads"]["geometry"] = box(45.07000002, -30.19000002, 45.085, -30.165)
    zones["curlew-pinnacle"]["geometry"]["coordinates"] = [-30.0552, 45.1575]
    own("curlew-pinnacle")["radius_m"] = 120
    own("northern-parallels")["edges"] = "unstated"
    own("northern-parallels")["on_the_line"] = "inside"
    own("sallow-cove")["edges"][60].pop("level")
    zones["ring-shoal"]["geometry"]["coordinates"] = zones["ring-shoal"]["geometry"]["coordinates"][:1]
    zones["kelp-garden"]["geometry"] = box(45.182, -30.073, 45.193, -30.047)
    own("kelp-garden").pop("geometry_unknown")
    own("kelp-garden")["edges"] = "rhumb"
    own("fulmar-bight")["line_uncertainty_m"] = 5
    own("southern-straights")["datum"] = "ETRS89"

    # rules
    own("sallow-cove")["crossing"]["max_stop_min"] = 20
    own("sallow-cove")["source"]["quoted_text"] = "No person shall take any fish within the Cove."
    reach = own("lantern-reach")
    reach["take"]["only"] = reach["take"]["only"][:1]
    reach["take"]["only"][0]["gear"] = {"only": ["hand net", {"kind": "hook and line", "max_lines": 2, "max_hooks": 12}]}
    reach["take"]["only"][0].pop("size")
    reach["conditions"] = []
    own("lantern-lane").pop("overrides")
    own("lantern-lane")["take"] = {"all_except": ["herring"]}
    own("nursery-bank")["when"]["yearly"]["to"] = "07-31"
    own("nursery-bank")["possession"] = "allowed"
    own("winter-hollow")["take"] = "none"
    own("ring-shoal")["crossing"]["min_speed_kn"] = 3
    own("owl-roads")["binds"] = ["boat"]
    own("haven-2019").pop("status")
    own("haven-2019")["effective"] = {"from": "2019-01-01"}
    haven = own("haven-2025")
    haven["may_change_by_notice"] = False
    haven["take"]["only"][0]["bag"]["count"] = 5
    haven["take"]["only"][0]["size"]["min_cm"] = 30
    haven["source"]["clause"] = "clause 2"

    # zones
    sound = zones["plover-sound"]
    sound["id"] = "plover-narrows"
    sound["properties"]["name"] = "Plover Narrows"
    petrel = zones.pop("petrel-ground")
    banks = zones.pop("gannet-bank")
    banks["id"] = "two-banks"
    banks["properties"]["name"] = "The Two Banks"
    banks["geometry"]["coordinates"][0] = [
        [-30.14, 45.065], [-30.11, 45.065], [-30.11, 45.07], [-30.09, 45.07], [-30.09, 45.087], [-30.12, 45.087],
        [-30.12, 45.082], [-30.14, 45.082], [-30.14, 45.065]]
    banks["properties"]["take"]["only"][0]["taxa"] = ["pollack", "mackerel", "bass"]
    del petrel
    roads = zones.pop("regatta-roads")
    west, east = json.loads(json.dumps(roads)), json.loads(json.dumps(roads))
    west["id"], west["properties"]["name"] = "regatta-roads-west", "Regatta Roads West"
    west["geometry"] = box(45.04, -30.19, 45.055, -30.1775)
    east["id"], east["properties"]["name"] = "regatta-roads-east", "Regatta Roads East"
    east["geometry"] = box(45.04, -30.1775, 45.055, -30.165)
    zones.pop("launce-flats")
    heron = json.loads(json.dumps(zones["tern-deep"]))
    heron["id"], heron["properties"]["name"] = "heron-flats", "Heron Flats"
    heron["properties"].pop("status")
    heron["properties"]["source"]["instrument"] = "Marrowick Waters Order 2024"
    heron["geometry"] = box(45.04, -30.10, 45.05, -30.08)
    for zone in zones.values():
        zone["properties"].pop("comment", None)
    file["comment"] = "Wholly invented, in open ocean. It is not law anywhere. make_older.py wrote it from ../zones/marrowick.json."
    file["features"] = [*zones.values(), banks, west, east, heron]
    return file


def main():
    file = older(json.loads((HERE / "../zones/marrowick.json").read_text()))
    features = file.pop("features")
    head = json.dumps(file, ensure_ascii=False, indent=2)[:-2]
    lines = ",\n".join("    " + json.dumps(feature, ensure_ascii=False) for feature in features)
    (HERE / "marrowick-2025.json").write_text(f'{head},\n  "features": [\n{lines}\n  ]\n}}\n')


if __name__ == "__main__":
    main()
