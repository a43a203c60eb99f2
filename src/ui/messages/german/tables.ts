import { PIECE_ADVICE } from './pieces.ts';
import type { Translation } from '../catalogue.ts';

/** Advice, small parts, keys and what stands in the way, in German. */
export const TABLES: Omit<Translation, 'texts'> = {
  advice: {
    ...PIECE_ADVICE,
    'all-right': 'Das war richtig: jeder Ton, im Takt. Nimm einen neuen Test oder eine Stufe mehr.',
    nearly: 'Fast: nichts Bestimmtes, nur Kleinigkeiten. Spiel es noch einmal und achte auf dein Timing.',
    'nothing-played':
      'Ich habe keine Töne gehört. Prüf, ob das Mikrofon dich hört, und versuch es noch einmal.',
    'wrong-note':
      'Ein Ton war {interval} zu {high}: {place}. Sing diese Stelle, dann such sie auf der Saite.',
    'wrong-notes':
      '{count} Töne waren falsch, der erste: {place}. Hör noch einmal hin und sing, bevor du spielst.',
    'many-wrong-notes':
      '{count} von {of} Tönen waren falsch. Geh langsamer: Such den ersten Ton, dann sing die Phrase Takt für Takt.',
    'wrong-start':
      'Die richtige Melodie, aber von einem Ton aus, der {interval} zu {high} liegt. Sing vor dem Spielen den ersten Ton, den du bekommen hast.',
    'octave-off': 'Alle Töne stimmen, eine Oktave {higher}. Such denselben Anfang in der anderen Oktave.',
    'octave-slip':
      'Bei {place} bist du eine Oktave zu {high} gelandet. Der Ton stimmt; such ihn näher an deiner Hand.',
    'moved-pitch':
      'Ab {place} warst du {interval} zu {high}. Prüf diesen Sprung: erst singen, dann langsam spielen.',
    'came-in-late':
      'Du bist {by} zu spät eingestiegen und dort geblieben. Zähl die vier Schläge laut und beginn auf der nächsten „Eins“.',
    'came-in-early':
      'Du bist {by} zu früh eingestiegen und dort geblieben. Wart das ganze Einzählen ab und beginn auf „Eins“.',
    'shifted-late': 'Ab {place} warst du {by} zu spät. Wipp den Fuß durch diese Stelle und zähl weiter.',
    'shifted-early': 'Ab {place} warst du {by} zu früh. Halt die Note oder Pause davor in voller Länge aus.',
    'stretch-late':
      '{count} Töne ab {place} kamen {by} zu spät, dann warst du wieder drin. Zähl durch diese Stelle.',
    'stretch-early':
      '{count} Töne ab {place} kamen {by} zu früh, dann warst du wieder drin. Lass den Schlag auf dich zukommen.',
    hesitated:
      'Du hast gezögert ({place}) und dann gut aufgeholt. Üb den Griff zu diesem Ton, bis er von selbst kommt.',
    paused: 'Du hast kurz angehalten vor: {place}. Üb langsam und ohne Pause über diese Stelle hinweg.',
    restarted:
      'Du bist zurückgegangen zu {place} und hast neu begonnen. Spiel im Test weiter: Ein fehlender Ton kostet weniger als ein Halt.',
    stopped:
      'Du hast aufgehört nach: {place}; was du gespielt hast, zählt. Lern den nächsten Takt und häng ihn an.',
    'joined-late':
      'Du bist erst eingestiegen bei: {place}. Hör auf den Anfang und halt die ersten Töne bereit.',
    'left-out': 'Takt {bar} hast du ausgelassen.',
    'left-out-bars': 'Die Takte {bar} bis {toBar} hast du ausgelassen.',
    'missed-note': 'Ein Ton fehlte: {place}. Hör noch einmal hin und zähl, wie viele Töne es sind.',
    'missed-notes': '{count} Töne fehlten, der erste: {place}. Klatsch die Phrase zuerst, dann spiel sie.',
    'extra-note':
      'Ein Ton zu viel, nach: {place}. Dämpf die Saite, die noch klingt, oder zähl die Töne noch einmal.',
    'extra-notes': '{count} Töne zu viel. Klatsch die Phrase, zähl ihre Töne und spiel nur diese.',
    'wrong-rhythm':
      'Die richtigen Töne in einem anderen Rhythmus. Klatsch den Rhythmus ohne Gitarre, dann setz die Töne wieder ein.',
    'note-early': 'Ein Ton kam {ms} ms zu früh: {place}. Gib dem Ton davor seine volle Länge.',
    'note-late': 'Ein Ton kam {ms} ms zu spät: {place}. Halt den Finger einen Schlag vorher bereit.',
    'notes-early':
      '{count} Töne kamen zu früh, der erste: {place}. Hör aufs Schlagzeug und lass jeden Schlag ankommen.',
    'notes-late':
      '{count} Töne kamen zu spät, der erste: {place}. Denk einen Ton voraus und lass den Fuß wippen.',
    'steady-late':
      'Gleichmäßig, aber durchweg {ms} ms hinter dem Schlag. Hör beim Spielen auf das Schlagzeug, nicht auf dich.',
    'steady-early':
      'Gleichmäßig, aber durchweg {ms} ms vor dem Schlag. Lass locker und warte auf das Schlagzeug.',
    uneven: 'Die Töne stimmen; der Schlag schwankt um etwa {ms} ms. Spiel langsam mit Klick.',
    'speeding-up':
      'Du wurdest unterwegs {percent} % schneller. Wipp mit dem Fuß und lass dich vom Schlag bremsen.',
    'slowing-down':
      'Du wurdest unterwegs {percent} % langsamer. Halt den nächsten Ton bereit und den Fuß in Gang.',
    unclear: 'Was nicht klar zu hören war ({count}), kostet dich nichts. Spiel näher am Mikrofon.',
    'other-pitch':
      'Hier zählt nur der Rhythmus; nebenbei: Die Tonhöhe war nicht immer wie notiert ({count}).',
    'wait-crossing':
      'Beim Wechsel von der {fromString} auf die {nextString} Saite wartest du: etwa {ms} ms. Spiel diese beiden Töne hin und her, bis das Plektrum vor dem Schlag dort ist.',
    'wait-shift':
      'Der Wechsel ({positionName}) kostet etwa {ms} ms: {place}. Schau auf den Zielbund und geh so früh, wie der letzte Ton es erlaubt.',
    'wait-turn':
      'Vor dem Umkehren wartest du etwa {ms} ms. Spiel die letzten zwei Töne auf und ab, bis die Wende sich anfühlt wie jeder andere Ton.',
    'wait-note': 'Du wartest etwa {ms} ms: {place}. Spiel von den drei Tönen davor in diesen Ton hinein.',
    'hurried-end':
      'Die letzten drei Töne spielst du {percent} % schneller. Halt das Tempo bis zum letzten Ton; zähl über ihn hinaus.',
    'too-slow':
      'Du hast mit {bpm} bpm gespielt; verlangt sind mindestens {asked}. Nimm es jeden Tag etwas schneller.',
    'too-fast':
      'Du hast mit {bpm} bpm gespielt; verlangt sind höchstens {asked}. Stell dir das Tempo vor, bevor du beginnst.',
    straight:
      'Verlangt war Swing, und deine Achtel stehen {ratio} zu 1. Mach die erste von zweien doppelt so lang.',
    accents: 'Töne nach einem Saitenwechsel stechen um {dB} dB heraus. Spiel sie so leicht wie die anderen.',
  },
  adviceOfKnown: {
    'wrong-note':
      'Ein Ton war {interval} zu {high}: {place}. Nenn zuerst den richtigen Ton, dann such ihn auf der Saite.',
    'wrong-notes':
      '{count} Töne waren falsch, der erste: {place}. Nenn jeden von ihnen beim Namen, dann spiel sie langsam.',
    'many-wrong-notes':
      '{count} von {of} Tönen waren falsch. Geh langsamer: Such den ersten Ton, dann Takt für Takt weiter.',
    'wrong-start':
      'Die richtigen Schritte, aber von einem Ton aus, der {interval} zu {high} liegt. Such Tonart und ersten Ton, bevor du beginnst.',
    'moved-pitch':
      'Ab {place} warst du {interval} zu {high}. Prüf diesen Sprung: erst beide Töne nennen, dann langsam spielen.',
    'joined-late':
      'Du bist erst eingestiegen bei: {place}. Hab die ersten Töne in der Hand, bevor du beginnst.',
    'missed-note': 'Ein Ton fehlte: {place}. Zähl diesen Takt laut, dann spiel ihn.',
    'missed-notes': '{count} Töne fehlten, der erste: {place}. Klatsch diesen Takt zuerst, dann spiel ihn.',
    'extra-notes': '{count} Töne zu viel. Klatsch den Rhythmus, zähl seine Töne und spiel nur diese.',
    'notes-early':
      '{count} Töne kamen zu früh, der erste: {place}. Lass den Fuß wippen und jeden Schlag ankommen.',
    'steady-late':
      'Gleichmäßig, aber durchweg {ms} ms hinter dem Schlag. Hör beim Spielen auf den Klick, nicht auf dich.',
    'steady-early': 'Gleichmäßig, aber durchweg {ms} ms vor dem Schlag. Lass locker und warte auf den Klick.',
  },
  audioProblems: {
    'no-audio-worklet': {
      text: 'Dieser Browser kann nicht genau genug zuhören.',
      remedy: 'Aktualisiere ihn oder öffne Twobar in einem aktuellen Chrome, Edge, Firefox oder Safari.',
    },
    'insecure-context': {
      text: 'Der Browser gibt einer Seite an dieser Adresse kein Mikrofon.',
      remedy: 'Öffne Twobar über eine https-Adresse oder über localhost auf diesem Gerät.',
    },
    'permission-refused': {
      text: 'Das Mikrofon ist für diese Seite nicht erlaubt.',
      remedy:
        'Erlaube es in den Browser-Einstellungen zu dieser Seite (neben der Adresse) und versuch es noch einmal.',
    },
    'no-microphone': {
      text: 'Es wurde kein Mikrofon gefunden.',
      remedy: 'Steck eins ein oder schließ dein Audio-Interface an und versuch es noch einmal.',
    },
    'microphone-busy': {
      text: 'Ein anderes Programm benutzt das Mikrofon.',
      remedy: 'Schließ Anrufe und Aufnahmeprogramme und versuch es noch einmal.',
    },
    'microphone-unplugged': {
      text: 'Das Mikrofon ist weg.',
      remedy: 'Steck es wieder ein und versuch es noch einmal.',
    },
    'context-suspended': {
      text: 'Der Browser hat den Ton angehalten.',
      remedy: 'Drück die Leertaste oder berühr die Seite, um weiterzumachen.',
    },
    'processing-not-off': {
      text: 'Der Browser verändert den Ton für Sprache und lässt das nicht abschalten; Töne können verloren gehen.',
      remedy: 'Nimm einen anderen Browser, ein anderes Mikrofon oder ein Audio-Interface.',
    },
    headset: {
      text: 'Ein Funk-Headset fällt auf Telefonqualität, solange sein Mikrofon offen ist.',
      remedy: 'Wähl ein anderes Mikrofon; zum Hören kann das Headset bleiben.',
    },
    'narrow-band': {
      text: 'Das Mikrofon klingt wie ein Telefon (nichts über 8 kHz); so ist der Beginn der Töne schwer zu orten.',
      remedy:
        'Wähl ein anderes Mikrofon oder schalte den Anrufmodus in den Klangeinstellungen des Systems aus.',
    },
    'assets-missing': {
      text: 'Die Klänge konnten nicht geladen werden.',
      remedy: 'Prüf die Verbindung für dieses erste Laden und versuch es noch einmal.',
    },
  },
  notMarked: {
    described: {
      text: 'Improvisieren wird beschrieben, nicht bewertet.',
      remedy: 'Lies, was dazu gesagt wird, und lass deine Lehrkraft sagen, was sie gehört hat.',
    },
    'for-teacher': {
      text: 'Das bewertet deine Lehrkraft.',
      remedy: 'Was sich dazu sagen lässt, steht darunter.',
    },
    silence: {
      text: 'Es war nichts zu hören.',
      remedy: 'Prüf Mikrofon und Eingangspegel im Soundcheck und spiel noch einmal.',
    },
    'too-quiet': {
      text: 'Du warst zu leise, um beurteilt zu werden.',
      remedy: 'Geh näher ans Mikrofon oder dreh den Eingang auf.',
    },
    clipped: {
      text: 'Der Eingang war zu laut und verzerrt.',
      remedy: 'Dreh den Eingang zurück oder geh weiter vom Mikrofon weg.',
    },
    'no-stream': {
      text: 'Der Ton vom Mikrofon brach ab oder hatte Lücken.',
      remedy: 'Prüf das Kabel, schließ andere Programme und spiel noch einmal.',
    },
    'not-an-instrument': {
      text: 'Zu hören war keine Gitarre und kein Bass.',
      remedy: 'Stell das Mikrofon näher ans Instrument und halt den Raum während des Takes ruhig.',
    },
    'backing-only': {
      text: 'Zu hören war nur die Begleitung.',
      remedy: 'Spiel nach dem Einzählen; wenn du das getan hast, prüf, welches Mikrofon gewählt ist.',
    },
    'backing-too-loud': {
      text: 'Die Begleitung war lauter als du.',
      remedy: 'Nimm Kopfhörer, dreh die Lautsprecher zurück oder geh näher ans Mikrofon.',
    },
    unclear: {
      text: 'Viele Töne waren nicht klar zu hören.',
      remedy: 'Lass jeden Ton klingen, dämpf die anderen Saiten und geh näher ans Mikrofon.',
    },
    'no-target': { text: 'Dieser Test hat keine Noten zum Vergleichen.', remedy: 'Wähl einen anderen Test.' },
    'nothing-played': {
      text: 'Es waren keine Töne zu hören.',
      remedy: 'Spiel nach dem Einzählen; wenn du das getan hast, prüf den Eingangspegel im Soundcheck.',
    },
  },
  parts: {
    repeat: 'Tonwiederholungen',
    'step-up': 'Schritte aufwärts',
    'step-down': 'Schritte abwärts',
    'third-up': 'Terzen aufwärts',
    'third-down': 'Terzen abwärts',
    'fourth-up': 'Quarten aufwärts',
    'fourth-down': 'Quarten abwärts',
    'fifth-up': 'Quinten aufwärts',
    'fifth-down': 'Quinten abwärts',
    'wide-up': 'weite Sprünge aufwärts',
    'wide-down': 'weite Sprünge abwärts',
    'degree-1': 'Grundtöne (1. Stufe)',
    'degree-2': 'Töne auf der 2. Stufe',
    'degree-3': 'Töne auf der 3. Stufe',
    'degree-4': 'Töne auf der 4. Stufe',
    'degree-5': 'Töne auf der 5. Stufe',
    'degree-6': 'Töne auf der 6. Stufe',
    'degree-7': 'Töne auf der 7. Stufe',
    chromatic: 'leiterfremde Töne',
    turn: 'Wendungen nach einem Sprung',
    opening: 'erste Töne einer Phrase',
    ending: 'letzte Töne einer Phrase',
    'on-beat': 'Töne auf dem Schlag',
    'off-beat': 'Töne neben dem Schlag',
    'quarter-beat': 'Töne ein Sechzehntel neben dem Schlag',
    triplet: 'Triolennoten',
    'crotchet-gap': 'Töne im Abstand eines Schlags oder mehr',
    'quaver-gap': 'Töne im Abstand eines halben Schlags',
    'short-gap': 'schnelle Töne',
    'after-rest': 'Töne nach einer Pause',
    'after-dot': 'Töne nach einer punktierten Note',
    'over-beat': 'Töne nach einer über den Schlag gehaltenen Note',
    slow: 'Töne in langsamem Tempo',
    medium: 'Töne in mittlerem Tempo',
    fast: 'Töne in schnellem Tempo',
    'first-bar': 'Töne des ersten Takts',
    'later-bars': 'Töne späterer Takte',
    compound: 'Töne in dreiteiligen Schlägen',
    'odd-metre': 'Töne in ungeraden Taktarten',
  },
  scales: {
    major: '{tonic}-Dur',
    minor: '{small}-Moll',
    'minor pentatonic': '{small}-Moll-Pentatonik',
    'major pentatonic': '{tonic}-Dur-Pentatonik',
    'harmonic minor': '{small}-Moll harmonisch',
    'melodic minor': '{small}-Moll melodisch',
    blues: '{tonic}-Bluestonleiter',
    dorian: '{tonic} dorisch',
    phrygian: '{tonic} phrygisch',
    lydian: '{tonic} lydisch',
    mixolydian: '{tonic} mixolydisch',
    aeolian: '{tonic} äolisch',
    locrian: '{tonic} lokrisch',
    chromatic: '{tonic} chromatisch',
    'natural minor': '{small}-Moll natürlich',
    'major arpeggio': '{tonic}-Dur-Arpeggio',
    'minor arpeggio': '{small}-Moll-Arpeggio',
    'dominant seventh arpeggio': '{tonic}-Dominantsept-Arpeggio',
    'major seventh arpeggio': '{tonic}-Major-7-Arpeggio',
    'minor seventh arpeggio': '{small}-Mollsept-Arpeggio',
    'diminished seventh arpeggio': '{tonic}-Arpeggio vermindert mit Septime',
  },
  storeProblems: {
    quota: {
      text: 'Der Speicher, oder der Anteil des Browsers daran, ist voll.',
      remedy:
        'Sichere alles in eine Datei, dann schaff Platz oder senk die Grenze für Ton unter Daten. Frühere Tests sind sicher.',
    },
    disk: {
      text: 'Der Browser kommt nicht an die Daten auf dem Speicher heran; vielleicht ist er voll.',
      remedy: 'Schaff etwas Platz und versuch es noch einmal. Was vorher geschrieben wurde, ist sicher.',
    },
    blocked: {
      text: 'In einem anderen Tab ist ein älteres Twobar offen.',
      remedy: 'Schließ die anderen Tabs mit Twobar und lade diese Seite neu.',
    },
    closed: {
      text: 'Die Daten wurden von einem anderen Tab oder vom Browser geschlossen.',
      remedy: 'Lade diese Seite neu. Was vorher geschrieben wurde, ist sicher.',
    },
    evicted: {
      text: 'Der Browser hat die Daten entfernt, die hier waren.',
      remedy: 'Stell unter Daten deine letzte Sicherung wieder her.',
    },
    unavailable: {
      text: 'Dieser Browser behält hier nichts; vielleicht ist das ein privates Fenster.',
      remedy: 'Öffne Twobar in einem gewöhnlichen Fenster, um etwas aufzuheben. Tests gehen auch so.',
    },
    'newer-version': {
      text: 'Die Daten schrieb ein neueres Twobar.',
      remedy:
        'Lade die Seite neu, solange du online bist, damit Twobar aktualisiert wird. Nichts wurde verändert.',
    },
    slow: {
      text: 'Der Browser antwortet nicht, wenn die Daten geöffnet werden.',
      remedy:
        'Schließ die anderen Tabs mit Twobar und starte den Browser neu. Tests gehen inzwischen, werden aber nicht aufgehoben.',
    },
    missing: {
      text: 'Dieser Eintrag ist nicht mehr hier.',
      remedy: 'Vielleicht wurde er in einem anderen Tab gelöscht. Geh zurück und wähl neu.',
    },
    failed: {
      text: 'Die Daten konnten nicht gelesen oder geschrieben werden.',
      remedy:
        'Versuch es noch einmal. Geschieht es wieder, sichere alles, wenn es geht, und starte den Browser neu.',
    },
  },
  importProblems: {
    'not-ours': {
      text: 'Das ist keine Datei von Twobar.',
      remedy: 'Wähl die Datei, die Twobar gespeichert hat. Nichts wurde verändert.',
    },
    truncated: {
      text: 'Die Datei oder der Link ist abgeschnitten.',
      remedy: 'Kopier oder lade sie noch einmal ganz. Nichts wurde verändert.',
    },
    corrupt: {
      text: 'Die Datei oder der Link ist beschädigt.',
      remedy: 'Nimm eine andere Kopie. Nichts wurde verändert.',
    },
    'newer-version': {
      text: 'Das hat ein neueres Twobar gemacht.',
      remedy: 'Öffne Twobar neu, solange du online bist, und versuch es noch einmal. Nichts wurde verändert.',
    },
    invalid: {
      text: 'Darin steht etwas, das nicht stimmen kann.',
      remedy: 'Nimm eine andere Kopie. Nichts wurde verändert.',
    },
    'too-big': {
      text: 'Das ist viel größer als alles, was Twobar speichert.',
      remedy: 'Wähl eine andere Datei. Nichts wurde verändert.',
    },
    'wrong-kind': {
      text: 'Das ist eine Datei von Twobar, aber von anderer Art.',
      remedy:
        'Sicherungen gehören unter Daten, Ergebnisse von Hausaufgaben unter Unterricht. Nichts wurde verändert.',
    },
    'unknown-homework': {
      text: 'Diese Hausaufgabe wurde nicht auf diesem Gerät gestellt.',
      remedy: 'Wähl, wessen Ergebnisse das sind. Nichts wurde verändert.',
    },
  },
  chordSentences: {
    'not-heard': 'Dieser Take war nicht gut genug zu hören, um ihn zu bewerten: {why}',
    'chords-right': 'Das waren die Akkorde, und im Takt. Nimm neue oder ein schnelleres Tempo.',
    'chord-another':
      'Statt {chord} klang ein anderer Akkord. Schau dir den Griff noch einmal an und wechsle langsam hinein.',
    'chord-replaced': '{chord} hatte {instead}, wo {note} hingehört. Prüf den Finger auf dieser Saite.',
    'chord-missing':
      'In {chord} fehlte das {note}. Spiel Saite für Saite: Eine ist gedämpft oder ausgelassen.',
    'chord-foreign':
      'In {chord} klang ein {note}, das nicht dazugehört. Dämpf diese Saite oder lass sie aus.',
    'chord-bass':
      '{chord} hatte einen anderen tiefsten Ton. Beginn den Anschlag auf der Saite mit dem Basston.',
    'chord-missed': '{chord} wurde nicht angeschlagen. Zähl weiter und mach mit dem nächsten weiter.',
    'change-late':
      'Der Wechsel von {from} zu {to} dauerte {ms} ms zu lang. Üb diese beiden allein, ohne Anschlag.',
    'chords-late': 'Deine Anschläge kamen {ms} ms zu spät. Setz die Hand schon vor dem Schlag in Bewegung.',
    'chords-early': 'Deine Anschläge kamen {ms} ms zu früh. Gib jedem Takt seine volle Länge.',
    'chord-extra':
      'Es wurde öfter angeschlagen als verlangt ({count} mehr). Ein Anschlag pro Akkord genügt hier.',
    'chord-unsure': 'Manche Akkorde ließen sich nicht sicher erkennen ({count}). Sie kosten dich nichts.',
  },
  chordSpoken: {
    major: '{root} Dur',
    minor: '{root} Moll',
    diminished: '{root} vermindert',
    augmented: '{root} übermäßig',
    fifth: '{root} fünf',
    'suspended second': '{root} sus zwei',
    'suspended fourth': '{root} sus vier',
    sixth: '{root} sechs',
    'minor sixth': '{root} Moll sechs',
    'dominant seventh': '{root} sieben',
    'major seventh': '{root} major sieben',
    'minor seventh': '{root} Moll sieben',
    'minor major seventh': '{root} Moll, major sieben',
    'half-diminished': '{root} Moll sieben, Quinte vermindert',
    'diminished seventh': '{root} vermindert sieben',
    'suspended seventh': '{root} sieben, sus vier',
    'added ninth': '{root} add neun',
    'dominant ninth': '{root} neun',
    'minor ninth': '{root} Moll neun',
    'major ninth': '{root} major neun',
  },
  chordDoubts: {
    'out-of-tune': {
      text: 'Die Saiten sind nicht aufeinander gestimmt.',
      remedy: 'Stimm sie und spiel noch einmal.',
    },
    'too-short': {
      text: 'Der Akkord klang nicht lange genug.',
      remedy: 'Lass jeden Akkord mindestens eine halbe Sekunde klingen.',
    },
    'too-quiet': {
      text: 'Der Akkord hob sich kaum vom Rauschen ab.',
      remedy: 'Geh näher ans Mikrofon oder spiel etwas lauter.',
    },
    'not-a-chord': {
      text: 'Vieles von dem, was klang, kam nicht von den Saiten.',
      remedy: 'Spiel, wo es ruhig ist, oder nimm Kopfhörer für die Begleitung.',
    },
    close: {
      text: 'Es war zu knapp für ein Urteil.',
      remedy: 'Lass alle Saiten gleich klingen; es kostet dich nichts.',
    },
  },
};
