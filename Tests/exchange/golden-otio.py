# The timeline as OpenTimelineIO itself reads it.
import json
import sys

import opentimelineio as otio

for folder in sys.argv[1:]:
    expected = json.load(open(folder + "/expected.json", encoding="utf-8"))
    rate = expected["numerator"] / expected["denominator"]
    timeline = otio.adapters.read_from_file(folder + "/list.otio")
    assert abs(timeline.global_start_time.rate - rate) < 1e-9
    assert timeline.global_start_time.value == expected["start"]
    track = timeline.video_tracks()[0]
    starts = {clip.metadata["shutterbeat"]["id"]: track.range_of_child(clip).start_time.value for clip in track}
    assert starts == {shot: frames[0] for shot, frames in expected["shots"].items()}, starts
    hits, cues = {}, {}
    for marker in timeline.tracks.markers:
        about = marker.metadata["shutterbeat"]
        start = marker.marked_range.start_time.value
        if "hit" in about:
            hits[about["hit"]] = start
        else:
            cues[about["cue"]] = [start, start + marker.marked_range.duration.value]
    assert hits == {hit: frames[0] for hit, frames in expected["hits"].items()}, hits
    assert cues == {cue: frames for cue, frames in expected["cues"].items()}, cues
