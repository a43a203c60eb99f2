#!/bin/sh
# Lets MuseScore 3.2.3 and LilyPond 2.24 (Debian) write the sources of make.py.
set -e
python3 make.py
export QT_QPA_PLATFORM=offscreen
for name in volta tempi voices da-capo; do musescore3 -f -o $name.musicxml /tmp/twobar-$name.musicxml; done
for name in pick-up chords; do musescore3 -f -o $name.mxl /tmp/twobar-$name.musicxml; done
for name in volta tempi; do musescore3 -f -o $name.mid /tmp/twobar-$name.musicxml; done
for name in lily-pick-up lily-volta lily-chords; do lilypond -s -o $name /tmp/twobar-$name.ly; mv -f $name.midi $name.mid 2>/dev/null || true; done
