/** Why a file, link or table is refused: one English sentence each, with a remedy. The app has them in every language. */
export const REFUSALS = {
  // Recordings
  'wav-empty': 'The file is empty; choose a WAV recording.',
  'wav-foreign': 'The file is not a WAV recording; export it as WAV and try again.',
  'wav-pieces': 'The WAV file holds its sound in pieces (a list of waves); export it as one plain recording.',
  'wav-header': 'The WAV file has no complete header; it is damaged, export it again.',
  'wav-compressed':
    'The WAV file holds compressed sound (format {format}); export it as uncompressed PCM and try again.',
  'wav-channels':
    'The WAV file has {channels} channels; one or two are read, so export it in mono or stereo.',
  'wav-rate':
    'The WAV file has {rate} samples a second; {lowest} to {highest} are read, so export it with 44,100.',
  'wav-bits':
    'The WAV file has samples of {bits} bits in frames of {bytes} bytes; 8, 16, 24 or 32 bits, or 32 or 64 as floating point, are read, so export it with one of these.',
  'wav-no-sound': 'The WAV file has no sound in it; it is damaged, export it again.',
  'wav-cut':
    'The WAV file is cut short: {there} of {declared} bytes of sound are there; copy or export it again.',
  'wav-no-samples': 'The WAV file holds no samples; record again.',
  'wav-long': 'The WAV file lasts {minutes} minutes; at most {most} are read, so cut it to the take.',
  'wav-late': 'The WAV file has more than {most} MiB before its sound; export it as a plain recording.',
  'wav-shrank': 'The WAV file became shorter while it was read; try again.',

  // MIDI
  'midi-large-phrase': 'The MIDI file is larger than 1 MiB; export the phrase alone.',
  'midi-large-part': 'The MIDI file is larger than 1 MiB; export the part alone.',
  'midi-foreign': 'The file is not a Standard MIDI File; export it as .mid and try again.',
  'midi-damaged': 'The MIDI file is damaged or cut short; export it again.',
  'midi-endless': 'A note in the MIDI file never ends; export it again.',
  'midi-changes-time':
    'The MIDI file changes its time signature; a test has one, so export a part without a change.',
  'midi-changes-tempo': 'The MIDI file changes its tempo; a test has one, so export a part without a change.',
  'midi-changes-key':
    'The MIDI file changes its key signature; a test has one, so export a part without a change.',
  'midi-no-beats':
    'This MIDI file does not count in beats, or holds several pieces; export one piece, with tempo and bars.',
  'midi-tracks': 'The MIDI file has notes in {tracks} tracks; export the one with the phrase.',
  'midi-key': 'The MIDI file names a key that there is not; export it again.',

  // MusicXML
  'xml-empty': 'The file is empty; export it as MusicXML and try again.',
  'xml-large': 'The MusicXML file is larger than 4 MiB; export the phrase alone.',
  'xml-foreign': 'The file is not MusicXML; export it as MusicXML and try again.',
  'xml-damaged': 'The MusicXML file is damaged or cut short; export it again.',
  'xml-no-score': 'The compressed MusicXML file holds no score; export it again.',
  'xml-elements': 'The MusicXML file has more than {most} elements; export the phrase alone.',
  'xml-deep': 'The MusicXML file is nested too deeply; export it again.',
  'xml-no-number': 'The MusicXML file has no number in <{element}>; export it again.',
  'xml-timewise': 'The MusicXML file is sorted by bars, not by parts; export it as score-partwise.',
  'xml-parts': 'The MusicXML file has music in {parts} parts; export the one with the phrase.',

  // What a phrase may hold
  'no-note': 'There is no note in the file; export a phrase.',
  'two-notes':
    'Two notes sound at once in bar {bar}; a test has one voice, so keep one line and export it again.',
  'second-voice':
    'A second voice sounds in bar {bar}; a test has one voice, so keep one line and export it again.',
  'phrase-long': 'The phrase has {bars} bars; a test has at most {most}, so export a part of it.',
  'music-long': 'The music has {bars} bars; a test has at most {most}, so export a part of it.',
  'tempo-beyond':
    'The tempo is {tempo} crotchets a minute; {slowest} to {fastest} are read, so change it and export it again.',
  'note-beyond-guitar':
    '{note} in bar {bar} is beyond the guitar in this tuning; move the phrase by an octave and export it again.',
  'note-beyond-bass':
    '{note} in bar {bar} is beyond the bass in this tuning; move the phrase by an octave and export it again.',
  'time-beyond':
    'The time signature is {signature}; 2 to 12 minims, crotchets or quavers a bar are read, so change it and export it again.',
  'time-composite':
    'The time signature is composite or free; a test has a single one, so change it and export it again.',
  'time-changes': 'The time signature changes; a test has one, so export a part without a change.',
  'key-beyond':
    'The key signature has {fifths} fifths; at most 7 are read, so choose another key and export it again.',
  'key-changes': 'The key changes; a test has one, so export a part without a change.',
  'tempo-unread': 'The tempo cannot be read; export the file again.',
  'tempo-changes': 'The tempo changes; a test has one, so export a part without a change.',
  repeats: 'The music has repeat signs; write the bars out and export it again.',
  'bar-long': 'Bar {bar} is longer than its time signature; mend it and export it again.',
  'note-value':
    'Bar {bar} has a note value that no test has; demisemiquavers and triplets are the shortest, so write longer notes and export it again.',
  'no-pitch': 'Bar {bar} has a note without a pitch; a test is for guitar or bass, so export their part.',
  'pitch-unread': 'Bar {bar} has a note whose pitch cannot be read; export the file again.',
  'quarter-tone': 'Bar {bar} has a quarter tone; a test has none, so write a semitone instead.',
  'grace-note': 'Bar {bar} has a grace note; write it out as a note.',

  // Whole pieces
  'piece-no-note': 'There is no note in the file; export the part with notes.',
  'piece-part-empty': 'There is no note in the part; choose another or export it again.',
  'piece-choose': {
    by: 'parts',
    one: 'The file has one part with notes; choose it.',
    other: 'The file has {parts} parts with notes; choose one of them.',
  },
  'piece-voices': 'Two voices sound at once in bar {bar}; choose the upper or the lower one.',
  'piece-notes': 'The part has {notes} notes; at most {most} are read, so export a part of it.',
  'piece-long': 'The piece has more than {most} bars; export a part of it.',
  'piece-repeats-long': 'With its repeats the piece has more than {most} bars; export a part of it.',
  'piece-beyond-guitar':
    'The part goes from {low} to {high}, or strikes more notes at once than there are strings, which the guitar in this tuning does not have; choose another part or tuning.',
  'piece-beyond-bass':
    'The part goes from {low} to {high}, or strikes more notes at once than there are strings, which the bass in this tuning does not have; choose another part or tuning.',

  // Links
  'link-damaged': 'The link is incomplete or mistyped; copy the whole of it and try again.',
  'link-too-much': 'The link holds far more than any test; ask its sender for a fresh one.',
  'link-newer': 'The link was made by a newer Twobar; update Twobar or ask for a fresh link.',
  'link-no-test': 'The link does not hold a test; ask its sender for a fresh one.',

  // Tables
  'table-long': 'This table is too long to be a list; save the lines that matter as a file of their own.',
  'table-binary': 'This file is no text; save the table as CSV in your spreadsheet and choose that file.',
  'table-quote':
    'Line {line} of this table has a quotation mark that is not closed; close it or take it out.',
} as const;

export type RefusalCode = keyof typeof REFUSALS;
