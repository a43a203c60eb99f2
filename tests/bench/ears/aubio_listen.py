"""Answers lines of JSON {"path", "rate"} on stdin (raw float32 mono) with aubio's notes, one line each.

Onsets by aubio's own defaults (window 1024, hop 256) with the method named in argv[1]; a note's pitch is the
median of yinfft (window 4096, hop 256) over the frames that lie between 20 ms after its onset and the next.
"""
import json, sys, time
import numpy as np, aubio

HOP, WINDOW, PITCH_WINDOW = 256, 1024, 4096


def listen(signal, rate, method):
    onset = aubio.onset(method, WINDOW, HOP, rate)
    pitch = aubio.pitch('yinfft', PITCH_WINDOW, HOP, rate)
    pitch.set_unit('midi')
    onsets, times, pitches = [], [], []
    padded = np.concatenate([signal, np.zeros(PITCH_WINDOW, dtype=np.float32)])
    for at in range(0, len(padded) - HOP, HOP):
        block = padded[at:at + HOP]
        if onset(block)[0]:
            onsets.append(float(onset.get_last_s()))
        times.append((at + HOP - PITCH_WINDOW / 2) / rate)  # centre of the window just filled
        pitches.append(float(pitch(block)[0]))
    times, pitches = np.array(times), np.array(pitches)
    notes = []
    for i, start in enumerate(onsets):
        end = min(onsets[i + 1] if i + 1 < len(onsets) else len(signal) / rate, start + 0.45)
        chosen = pitches[(times >= start + 0.02) & (times < end - 0.01) & (pitches > 20)]
        if len(chosen) == 0:
            near = np.argmin(np.abs(times - (start + end) / 2))
            chosen = pitches[near:near + 1]
        if chosen[0] > 20 or len(chosen) > 1:
            notes.append({'onsetSec': start, 'midi': float(np.median(chosen))})
    return notes


for line in sys.stdin:
    order = json.loads(line)
    signal = np.fromfile(order['path'], dtype=np.float32)
    begun = time.process_time()
    notes = listen(signal, order['rate'], sys.argv[1])
    print(json.dumps({'notes': notes, 'seconds': time.process_time() - begun}), flush=True)
