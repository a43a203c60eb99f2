"""Writes the sources of these files: short lines of our own. Then `sh make.sh` lets notation programs write them."""

STEPS = 'CDEFGAB'


def note(step, octave, quarters, chord=False, voice=1):
    kind = {4: 'whole', 2: 'half', 1: 'quarter', 0.5: 'eighth'}[quarters]
    return (
        '<note>' + ('<chord/>' if chord else '')
        + f'<pitch><step>{step}</step><octave>{octave}</octave></pitch>'
        + f'<duration>{int(quarters * 2)}</duration><voice>{voice}</voice><type>{kind}</type></note>'
    )


def line(names, quarters=1, voice=1):
    return ''.join(note(n[0], int(n[1:]), quarters, voice=voice) for n in names.split())


def score(measures, title):
    head = (
        '<attributes><divisions>2</divisions><key><fifths>0</fifths><mode>minor</mode></key>'
        '<time><beats>4</beats><beat-type>4</beat-type></time>'
        '<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef></attributes>'
    )
    bars = ''
    for k, (number, content, extra) in enumerate(measures):
        implicit = ' implicit="yes"' if number == 0 else ''
        bars += f'<measure number="{number}"{implicit}>' + (head if k == 0 else '') + content + extra + '</measure>'
    return (
        '<?xml version="1.0" encoding="UTF-8"?><score-partwise version="3.1">'
        f'<work><work-title>{title}</work-title></work><part-list><score-part id="P1">'
        '<part-name>Guitar</part-name><score-instrument id="P1-I1"><instrument-name>Guitar</instrument-name></score-instrument>'
        '<midi-instrument id="P1-I1"><midi-channel>1</midi-channel><midi-program>26</midi-program></midi-instrument>'
        f'</score-part></part-list><part id="P1">{bars}</part></score-partwise>'
    )


def tempo(bpm):
    return (
        '<direction placement="above"><direction-type><metronome><beat-unit>quarter</beat-unit>'
        f'<per-minute>{bpm}</per-minute></metronome></direction-type><sound tempo="{bpm}"/></direction>'
    )


def left(inner):
    return f'<barline location="left">{inner}</barline>'


def right(inner):
    return f'<barline location="right">{inner}</barline>'


REPEAT = '<repeat direction="backward"/>'
FORWARD = '<bar-style>heavy-light</bar-style><repeat direction="forward"/>'
A, B, C, D = line('A3 C4 E4 C4'), line('G3 B3 D4 B3'), line('F3 A3 C4 A3'), line('E3 G3 B3 D4')

FILES = {
    'volta': [
        (1, tempo(100) + A, ''),
        (2, left(FORWARD) + B, ''),
        (3, left('<ending number="1" type="start">1.</ending>') + C, right('<ending number="1" type="stop"/>' + REPEAT)),
        (4, left('<ending number="2" type="start">2.</ending>') + D, right('<ending number="2" type="stop"/>')),
        (5, line('A3', 4), ''),
    ],
    'pick-up': [(0, tempo(90) + line('E4'), ''), (1, A, ''), (2, B, ''), (3, line('A3', 4), '')],
    'tempi': [(1, tempo(80) + A, ''), (2, B, ''), (3, tempo(120) + C, ''), (4, line('A3', 4), '')],
    'voices': [
        (1, tempo(80) + A + '<backup><duration>8</duration></backup>' + line('A2 E3', 2, voice=2), ''),
        (2, line('A3', 4), ''),
    ],
    'chords': [
        (1, tempo(72) + ''.join(
            note('A', 2, 2, c) if not c else note(n, 3, 2, True)
            for c, n in ((False, ''), (True, 'E'), (True, 'A'))
        ) * 2, ''),
        (2, line('A3', 4), ''),
    ],
    'da-capo': [
        (1, tempo(100) + A, ''),
        (2, B + '<direction><direction-type><words>Fine</words></direction-type><sound fine="yes"/></direction>', ''),
        (3, C + '<direction><direction-type><words>D.C. al Fine</words></direction-type><sound dacapo="yes"/></direction>', ''),
    ],
}

for name, measures in FILES.items():
    open(f'/tmp/twobar-{name}.musicxml', 'w').write(score(measures, f'Own {name}'))

LILY = {
    'lily-pick-up': r"\tempo 4 = 90 \time 4/4 \key a \minor \partial 4 e'4 a c' e' c' g b d' b a1",
    'lily-volta': r"\tempo 4 = 100 \time 4/4 \repeat volta 2 { a4 c' e' c' } \alternative { { g b d' b } { f a c' a } } a1",
    'lily-chords': r"\tempo 4 = 72 \time 3/4 <a, e a>2. \tempo 4 = 96 <g, d g>2. a2.",
}
for name, music in LILY.items():
    source = r'\version "2.24.0" \score { \unfoldRepeats { %s } \midi {} }' % music
    open(f'/tmp/twobar-{name}.ly', 'w').write(source)
