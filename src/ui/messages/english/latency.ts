/** What is read where the latency is asked for, and where it is told. */
export const LATENCY_MESSAGES = {
  'check.noise.label': 'Your room',
  'check.noise.quiet': 'quiet enough',
  'check.noise.some': 'a little noisy. Turn off what hums, or move closer.',
  'check.noise.loud': 'too noisy. Turn off what hums, close the window, and move closer.',

  'latency.again': 'Measure again',
  'latency.instead': 'Play four notes instead',
  'latency.skip': 'Skip this',
  'latency.loudspeaker': 'Delay measured over the loudspeaker: {ms} ms, give or take {uncertainty}',
  'latency.earcup': 'Delay measured with an earcup at the microphone: {ms} ms, give or take {uncertainty}',
  'latency.notes': 'Delay measured from four notes with the click: {ms} ms, give or take {uncertainty}',
  'latency.reported': 'Delay not measured; the browser reports {ms} ms, give or take {uncertainty}',
  'latency.unsure':
    'If you are early or late all through by no more than that, you are told, but it costs you nothing.',
  'latency.unmeasured': 'If you are early or late all through, you are told, but it costs you nothing.',

  'latency.cup.title': 'How late does the sound come back?',
  'latency.cup.text':
    'Take the headphones off your head and hold one earcup against the microphone. Nothing sounds yet.',
  'latency.cup.ready': 'I am holding it there',
  'latency.cup.confirm.title': 'Are the headphones off your head?',
  'latency.cup.confirm.text': 'A soft gliding tone then sounds for a second and a half.',
  'latency.cup.confirm': 'They are off: play it',
  'latency.cup.playing': 'Hold it still',
  'latency.cup.done': 'Measured. The headphones may go on again.',
  'latency.cup.failed': 'I did not hear it clearly enough.',
  'latency.cup.failed.remedy':
    'Hold the earcup closer, turn the headphones up a little, or play four notes instead.',

  'latency.notes.title': 'Play four notes with the click',
  'latency.notes.text': 'Four clicks count you in. With the next four play one note each, any note.',
  'latency.notes.go': 'Start the click',
  'latency.notes.listen': 'Count',
  'latency.notes.play': 'Play',
  'latency.notes.hearing': 'One moment',
  'latency.notes.done': 'Measured by your playing',
  'latency.notes.failed': 'I did not hear four notes with the click.',
  'latency.notes.failed.remedy': 'Play one short, clear note with each of the last four clicks.',

  'over.title': 'How well can I hear you over the backing?',
  'over.text':
    'Four bars come out of the loudspeaker. Play any notes over them, as loud as you would in a test.',
  'over.go': 'Play the backing',
  'over.playing': 'Play along, any notes',
  'over.hearing': 'Taking the backing out',
  'over.none': 'The microphone picks up nothing from the loudspeaker, so it hears you alone.',
  'over.none.next': 'The delay is then measured from four notes that you play.',
  'over.ok': 'I hear you well.',
  'over.caution': 'I hear you, but the backing is rather loud next to you.',
  'over.caution.remedy': 'Turn the backing down a little, or bring the microphone closer to your instrument.',
  'over.refused.backing-only': 'I heard the backing, but nobody playing over it.',
  'over.refused.backing-only.remedy':
    'Play while it sounds. If you did, turn the backing down or move the microphone closer to you.',
  'over.refused': 'I cannot tell you from the backing.',
  'over.refused.remedy': 'Turn the backing down, move the microphone closer to you, or use headphones.',
} as const;
