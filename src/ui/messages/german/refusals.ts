import type { Refusals } from '../english/refusals.ts';

/** Why a file, link, code or table is refused, in German. */
export const REFUSALS: Refusals = {
  'wav-empty': 'Die Datei ist leer; wähle eine WAV-Aufnahme.',
  'wav-foreign': 'Die Datei ist keine WAV-Aufnahme; exportiere sie als WAV und versuch es noch einmal.',
  'wav-pieces':
    'Die WAV-Datei enthält ihren Klang in Stücken (eine Wellenliste); exportiere sie als eine einfache Aufnahme.',
  'wav-header': 'Der WAV-Datei fehlt ein Teil ihres Kopfes; sie ist beschädigt, exportiere sie noch einmal.',
  'wav-compressed':
    'Die WAV-Datei enthält komprimierten Klang (Format {format}); exportiere sie als unkomprimiertes PCM und versuch es noch einmal.',
  'wav-channels':
    'Die WAV-Datei hat {channels} Kanäle; gelesen werden einer oder zwei, exportiere sie also in Mono oder Stereo.',
  'wav-rate':
    'Die WAV-Datei hat {rate} Abtastwerte in der Sekunde; gelesen werden {lowest} bis {highest}, exportiere sie also mit 44.100.',
  'wav-bits':
    'Die WAV-Datei hat Abtastwerte von {bits} Bit in Blöcken von {bytes} Byte; gelesen werden 8, 16, 24 oder 32 Bit, als Gleitkommazahlen 32 oder 64, exportiere sie also mit einem davon.',
  'wav-no-sound': 'In der WAV-Datei ist kein Klang; sie ist beschädigt, exportiere sie noch einmal.',
  'wav-cut':
    'Die WAV-Datei ist abgeschnitten: {there} von {declared} Byte Klang sind da; kopiere oder exportiere sie noch einmal.',
  'wav-no-samples': 'Die WAV-Datei enthält keinen einzigen Abtastwert; nimm noch einmal auf.',
  'wav-long':
    'Die WAV-Datei dauert {minutes} Minuten; gelesen werden höchstens {most}, schneide sie also auf die Aufnahme zu.',
  'wav-late':
    'In der WAV-Datei stehen mehr als {most} MiB vor dem Klang; exportiere sie als einfache Aufnahme.',
  'wav-shrank': 'Die WAV-Datei wurde kürzer, während sie gelesen wurde; versuch es noch einmal.',

  'midi-large-phrase': 'Die MIDI-Datei ist größer als 1 MiB; exportiere die Phrase allein.',
  'midi-large-part': 'Die MIDI-Datei ist größer als 1 MiB; exportiere den Part allein.',
  'midi-foreign':
    'Die Datei ist keine Standard-MIDI-Datei; exportiere sie als .mid und versuch es noch einmal.',
  'midi-damaged': 'Die MIDI-Datei ist beschädigt oder abgeschnitten; exportiere sie noch einmal.',
  'midi-endless': 'Ein Ton in der MIDI-Datei hört nie auf; exportiere sie noch einmal.',
  'midi-changes-time':
    'In der MIDI-Datei wechselt die Taktart; ein Test hat nur eine, exportiere also einen Teil ohne Wechsel.',
  'midi-changes-tempo':
    'In der MIDI-Datei wechselt das Tempo; ein Test hat nur eins, exportiere also einen Teil ohne Wechsel.',
  'midi-changes-key':
    'In der MIDI-Datei wechseln die Vorzeichen; ein Test hat nur eine Tonart, exportiere also einen Teil ohne Wechsel.',
  'midi-no-beats':
    'Diese MIDI-Datei zählt nicht in Schlägen oder enthält mehrere Stücke; exportiere ein einziges, mit Tempo und Takten.',
  'midi-tracks': 'Die MIDI-Datei hat Töne in {tracks} Spuren; exportiere die mit der Phrase.',
  'midi-key': 'Die MIDI-Datei nennt eine Tonart, die es nicht gibt; exportiere sie noch einmal.',

  'xml-empty': 'Die Datei ist leer; exportiere sie als MusicXML und versuch es noch einmal.',
  'xml-large': 'Die MusicXML-Datei ist größer als 4 MiB; exportiere die Phrase allein.',
  'xml-foreign': 'Die Datei ist kein MusicXML; exportiere sie als MusicXML und versuch es noch einmal.',
  'xml-damaged': 'Die MusicXML-Datei ist beschädigt oder abgeschnitten; exportiere sie noch einmal.',
  'xml-no-score': 'Die komprimierte MusicXML-Datei enthält keine Noten; exportiere sie noch einmal.',
  'xml-elements': 'Die MusicXML-Datei hat mehr als {most} Elemente; exportiere die Phrase allein.',
  'xml-deep': 'Die MusicXML-Datei ist zu tief verschachtelt; exportiere sie noch einmal.',
  'xml-no-number': 'In der MusicXML-Datei steht in <{element}> keine Zahl; exportiere sie noch einmal.',
  'xml-timewise':
    'Die MusicXML-Datei ist nach Takten geordnet, nicht nach Parts; exportiere sie als score-partwise.',
  'xml-parts': 'Die MusicXML-Datei hat Noten in {parts} Parts; exportiere den mit der Phrase.',

  'no-note': 'In der Datei steht keine Note; exportiere eine Phrase.',
  'two-notes':
    'In Takt {bar} klingen zwei Töne zugleich; ein Test ist einstimmig, behalte also eine Linie und exportiere sie noch einmal.',
  'second-voice':
    'In Takt {bar} klingt eine zweite Stimme; ein Test ist einstimmig, behalte also eine Linie und exportiere sie noch einmal.',
  'phrase-long':
    'Die Phrase hat {bars} Takte; ein Test hat höchstens {most}, exportiere also einen Teil davon.',
  'music-long':
    'Die Musik hat {bars} Takte; ein Test hat höchstens {most}, exportiere also einen Teil davon.',
  'tempo-beyond':
    'Das Tempo ist {tempo} Viertel in der Minute; gelesen werden {slowest} bis {fastest}, ändere es also und exportiere noch einmal.',
  'note-beyond-guitar':
    '{note} in Takt {bar} liegt außerhalb der Gitarre in dieser Stimmung; verschieb die Phrase um eine Oktave und exportiere sie noch einmal.',
  'note-beyond-bass':
    '{note} in Takt {bar} liegt außerhalb des Basses in dieser Stimmung; verschieb die Phrase um eine Oktave und exportiere sie noch einmal.',
  'time-beyond':
    'Die Taktart ist {signature}; gelesen werden 2 bis 12 Halbe, Viertel oder Achtel im Takt, ändere sie also und exportiere noch einmal.',
  'time-composite':
    'Die Taktart ist zusammengesetzt oder frei; ein Test hat eine einzige, ändere sie also und exportiere noch einmal.',
  'time-changes': 'Die Taktart wechselt; ein Test hat nur eine, exportiere also einen Teil ohne Wechsel.',
  'key-beyond':
    'Die Vorzeichen gehen {fifths} Quinten weit; gelesen werden höchstens 7, wähle also eine andere Tonart und exportiere noch einmal.',
  'key-changes': 'Die Tonart wechselt; ein Test hat nur eine, exportiere also einen Teil ohne Wechsel.',
  'tempo-unread': 'Das Tempo lässt sich nicht lesen; exportiere die Datei noch einmal.',
  'tempo-changes': 'Das Tempo wechselt; ein Test hat nur eins, exportiere also einen Teil ohne Wechsel.',
  repeats: 'In den Noten stehen Wiederholungszeichen; schreib die Takte aus und exportiere noch einmal.',
  'bar-long': 'Takt {bar} ist länger als seine Taktart; berichtige ihn und exportiere noch einmal.',
  'note-value':
    'In Takt {bar} steht ein Notenwert, den kein Test hat; am kürzesten sind Zweiunddreißigstel und Triolen, schreib also längere Noten und exportiere noch einmal.',
  'no-pitch':
    'In Takt {bar} steht eine Note ohne Tonhöhe; ein Test ist für Gitarre oder Bass, exportiere also deren Part.',
  'pitch-unread':
    'In Takt {bar} steht eine Note, deren Tonhöhe sich nicht lesen lässt; exportiere die Datei noch einmal.',
  'quarter-tone':
    'In Takt {bar} steht ein Viertelton; ein Test hat keine, schreib also stattdessen einen Halbton.',
  'grace-note': 'In Takt {bar} steht eine Vorschlagsnote; schreib sie als Note aus.',

  'piece-no-note': 'In der Datei steht keine Note; exportiere den Part mit Noten.',
  'piece-part-empty': 'In diesem Part steht keine Note; wähle einen anderen oder exportiere ihn noch einmal.',
  'piece-choose': {
    by: 'parts',
    one: 'Die Datei hat einen Part mit Noten; wähle ihn.',
    other: 'Die Datei hat {parts} Parts mit Noten; wähle einen davon.',
  },
  'piece-voices': 'In Takt {bar} klingen zwei Stimmen zugleich; wähle die obere oder die untere.',
  'piece-notes':
    'Der Part hat {notes} Noten; gelesen werden höchstens {most}, exportiere also einen Teil davon.',
  'piece-long': 'Das Stück hat mehr als {most} Takte; exportiere einen Teil davon.',
  'piece-repeats-long':
    'Mit seinen Wiederholungen hat das Stück mehr als {most} Takte; exportiere einen Teil davon.',
  'piece-beyond-guitar':
    'Der Part geht von {low} bis {high} oder schlägt mehr Töne zugleich an, als Saiten da sind; das hat die Gitarre in dieser Stimmung nicht. Wähle einen anderen Part oder eine andere Stimmung.',
  'piece-beyond-bass':
    'Der Part geht von {low} bis {high} oder schlägt mehr Töne zugleich an, als Saiten da sind; das hat der Bass in dieser Stimmung nicht. Wähle einen anderen Part oder eine andere Stimmung.',

  'link-damaged': 'Der Link ist unvollständig oder vertippt; kopiere ihn ganz und versuch es noch einmal.',
  'link-too-much':
    'Der Link enthält weit mehr als irgendein Test; bitte den, der ihn geschickt hat, um einen neuen.',
  'link-newer':
    'Der Link stammt von einem neueren Twobar; aktualisiere Twobar oder bitte um einen neuen Link.',
  'link-no-test': 'Der Link enthält keinen Test; bitte den, der ihn geschickt hat, um einen neuen.',

  'table-long':
    'Diese Tabelle ist zu lang für eine Liste; speichere die Zeilen, um die es geht, in einer eigenen Datei.',
  'table-binary':
    'Diese Datei ist kein Text; speichere die Tabelle in deiner Tabellenkalkulation als CSV und wähle diese Datei.',
  'table-quote':
    'In Zeile {line} dieser Tabelle steht ein Anführungszeichen, das nicht geschlossen wird; schließ es oder nimm es heraus.',

  'test-newer':
    'Dieser Test stammt von einem neueren Twobar; aktualisiere Twobar oder bitte um einen älteren Export.',
  'test-unread':
    'Diesen Test kann Twobar nicht lesen; mach ihn noch einmal oder bitte den, der ihn geschickt hat, um eine neue Kopie.',

  'code-length':
    'Ein Code hat {length} Buchstaben und Ziffern, wie 1M3-00000KF-W; sieh dir deinen noch einmal an.',
  'code-mistyped':
    'In diesem Code ist ein Tippfehler: Sein letzter Buchstabe passt nicht; sieh ihn dir noch einmal an.',
  'code-newer':
    'Dieser Code stammt von einem neueren Twobar; aktualisiere Twobar oder bitte stattdessen um einen Link oder eine Datei des Tests.',
  'code-unknown': 'Diesen Code hat kein Test irgendeiner Stufe; sieh ihn dir noch einmal an.',

  'scales-empty':
    'Diese Tabelle ist leer: Ihre erste Zeile nennt die Spalten, zum Beispiel key, kind, octaves.',
  'scales-column': 'Diese Tabelle hat eine Spalte „{column}“; bekannt sind {known}.',
  'scales-no-column': 'Dieser Tabelle fehlt die Spalte „{column}“; füg sie hinzu.',
  'scales-lines': 'Diese Tabelle hat {lines} Zeilen, gelesen werden höchstens {most}; teile sie auf.',
  'scales-yes': 'Zeile {line}: In {column} steht „{found}“, möglich ist yes oder no.',
  'scales-key':
    'Zeile {line}: In key steht „{found}“; möglich ist ein Buchstabe mit # oder b, zum Beispiel F# oder Eb.',
  'scales-kind': 'Zeile {line}: In kind steht „{found}“; möglich ist {known}.',
  'scales-octaves': 'Zeile {line}: In octaves steht „{found}“; möglich ist 1 bis 3.',
  'scales-string':
    'Zeile {line}: In string steht „{found}“; möglich ist nichts oder eine Saite, 1 für die höchste.',
  'scales-position': 'Zeile {line}: In position steht „{found}“; möglich ist nichts oder ein Bund, 1 bis 20.',
  'scales-direction': 'Zeile {line}: In direction steht „{found}“; möglich ist {known}.',
  'scales-values': 'Zeile {line}: In values steht „{found}“; möglich ist {known}.',
  'scales-tempo':
    'Zeile {line}: In tempo steht „{found}“; möglich ist {slowest} bis {fastest} oder zwei Tempi wie 60-80, das langsamere zuerst.',
  'scales-swung':
    'Zeile {line}: In swung steht „{found}“; möglich ist yes, wo in values quavers steht, sonst no.',

  'chords-empty': 'Diese Tabelle ist leer: Ihre erste Zeile nennt die Spalten chord und shape.',
  'chords-column': 'Diese Tabelle hat eine Spalte „{column}“; bekannt sind chord und shape.',
  'chords-no-column': 'Dieser Tabelle fehlt die Spalte „chord“; füg sie hinzu.',
  'chords-lines': 'Diese Tabelle hat {lines} Zeilen, gelesen werden höchstens {most}; teile sie auf.',
  'chord-name': '„{found}“ ist kein Akkordname; schreib ihn wie C, F#m7 oder D/F#.',
  'chord-name-in': 'Zeile {line}: „{found}“ ist kein Akkordname; schreib ihn wie C, F#m7 oder D/F#.',
  'chord-shape':
    '„{found}“ ist kein Griff; schreib sechs Bünde von der tiefsten Saite an, x für eine, die nicht angeschlagen wird, wie x32010.',
  'chord-shape-in':
    'Zeile {line}: „{found}“ ist kein Griff; schreib sechs Bünde von der tiefsten Saite an, x für eine, die nicht angeschlagen wird, wie x32010.',
  'chord-unlike':
    'Der Griff {shape} enthält {chord} nicht; berichtige ihn, oder lass ihn für jeden Griff leer.',
  'chord-unlike-in':
    'Zeile {line}: Der Griff {shape} enthält {chord} nicht; berichtige ihn, oder lass ihn für jeden Griff leer.',
};
