import type { Refusals } from '../english/refusals.ts';

/** Why a file, link, code or table is refused, in Spanish. */
export const REFUSALS: Refusals = {
  'wav-empty': 'El archivo está vacío; elige una grabación WAV.',
  'wav-foreign': 'El archivo no es una grabación WAV; expórtalo como WAV e inténtalo otra vez.',
  'wav-pieces':
    'El archivo WAV guarda el sonido en trozos (una lista de ondas); expórtalo como una sola grabación.',
  'wav-header': 'Al archivo WAV le falta parte de la cabecera; está dañado, expórtalo otra vez.',
  'wav-compressed':
    'El archivo WAV contiene sonido comprimido (formato {format}); expórtalo como PCM sin comprimir e inténtalo otra vez.',
  'wav-channels':
    'El archivo WAV tiene {channels} canales; se leen uno o dos, así que expórtalo en mono o estéreo.',
  'wav-rate':
    'El archivo WAV tiene {rate} muestras por segundo; se leen de {lowest} a {highest}, así que expórtalo con 44 100.',
  'wav-bits':
    'El archivo WAV tiene muestras de {bits} bits en bloques de {bytes} bytes; se leen 8, 16, 24 o 32 bits, o 32 o 64 en coma flotante, así que expórtalo con uno de estos.',
  'wav-no-sound': 'En el archivo WAV no hay sonido; está dañado, expórtalo otra vez.',
  'wav-cut':
    'El archivo WAV está cortado: hay {there} de {declared} bytes de sonido; cópialo o expórtalo otra vez.',
  'wav-no-samples': 'El archivo WAV no contiene ninguna muestra; graba otra vez.',
  'wav-long':
    'El archivo WAV dura {minutes} minutos; se leen como mucho {most}, así que recórtalo hasta la toma.',
  'wav-late': 'El archivo WAV tiene más de {most} MiB antes del sonido; expórtalo como una simple grabación.',
  'wav-shrank': 'El archivo WAV se acortó mientras se leía; inténtalo otra vez.',

  'midi-large-phrase': 'El archivo MIDI ocupa más de 1 MiB; exporta solo la frase.',
  'midi-large-part': 'El archivo MIDI ocupa más de 1 MiB; exporta solo la parte.',
  'midi-foreign': 'El archivo no es un archivo MIDI estándar; expórtalo como .mid e inténtalo otra vez.',
  'midi-damaged': 'El archivo MIDI está dañado o cortado; expórtalo otra vez.',
  'midi-endless': 'Una nota del archivo MIDI no termina nunca; expórtalo otra vez.',
  'midi-changes-time':
    'En el archivo MIDI cambia el compás; una prueba tiene uno solo, así que exporta un fragmento sin cambios.',
  'midi-changes-tempo':
    'En el archivo MIDI cambia el tempo; una prueba tiene uno solo, así que exporta un fragmento sin cambios.',
  'midi-changes-key':
    'En el archivo MIDI cambia la armadura; una prueba tiene una sola, así que exporta un fragmento sin cambios.',
  'midi-no-beats':
    'Este archivo MIDI no cuenta en pulsos o contiene varias piezas; exporta una sola, con tempo y compases.',
  'midi-tracks': 'El archivo MIDI tiene notas en {tracks} pistas; exporta la de la frase.',
  'midi-key': 'El archivo MIDI indica una tonalidad que no existe; expórtalo otra vez.',

  'xml-empty': 'El archivo está vacío; expórtalo como MusicXML e inténtalo otra vez.',
  'xml-large': 'El archivo MusicXML ocupa más de 4 MiB; exporta solo la frase.',
  'xml-foreign': 'El archivo no es MusicXML; expórtalo como MusicXML e inténtalo otra vez.',
  'xml-damaged': 'El archivo MusicXML está dañado o cortado; expórtalo otra vez.',
  'xml-no-score': 'El archivo MusicXML comprimido no contiene ninguna partitura; expórtalo otra vez.',
  'xml-elements': 'El archivo MusicXML tiene más de {most} elementos; exporta solo la frase.',
  'xml-deep': 'El archivo MusicXML tiene demasiados niveles anidados; expórtalo otra vez.',
  'xml-no-number': 'En el archivo MusicXML no hay ningún número en <{element}>; expórtalo otra vez.',
  'xml-timewise':
    'El archivo MusicXML está ordenado por compases, no por partes; expórtalo como score-partwise.',
  'xml-parts': 'El archivo MusicXML tiene música en {parts} partes; exporta la de la frase.',

  'no-note': 'En el archivo no hay ninguna nota; exporta una frase.',
  'two-notes':
    'En el compás {bar} suenan dos notas a la vez; una prueba tiene una sola voz, así que deja una línea y exporta otra vez.',
  'second-voice':
    'En el compás {bar} suena una segunda voz; una prueba tiene una sola voz, así que deja una línea y exporta otra vez.',
  'phrase-long':
    'La frase tiene {bars} compases; una prueba tiene como mucho {most}, así que exporta un fragmento.',
  'music-long':
    'La música tiene {bars} compases; una prueba tiene como mucho {most}, así que exporta un fragmento.',
  'tempo-beyond':
    'El tempo es de {tempo} negras por minuto; se leen de {slowest} a {fastest}, así que cámbialo y exporta otra vez.',
  'note-beyond-guitar':
    '{note} en el compás {bar} queda fuera de la guitarra con esta afinación; mueve la frase una octava y exporta otra vez.',
  'note-beyond-bass':
    '{note} en el compás {bar} queda fuera del bajo con esta afinación; mueve la frase una octava y exporta otra vez.',
  'time-beyond':
    'El compás es de {signature}; se leen de 2 a 12 blancas, negras o corcheas por compás, así que cámbialo y exporta otra vez.',
  'time-composite':
    'El compás se compone de varios o es libre; una prueba tiene uno solo, así que cámbialo y exporta otra vez.',
  'time-changes': 'El compás cambia; una prueba tiene uno solo, así que exporta un fragmento sin cambios.',
  'key-beyond':
    'La armadura tiene {fifths} quintas; se leen como mucho 7, así que elige otra tonalidad y exporta otra vez.',
  'key-changes': 'La tonalidad cambia; una prueba tiene una sola, así que exporta un fragmento sin cambios.',
  'tempo-unread': 'El tempo no se puede leer; exporta el archivo otra vez.',
  'tempo-changes': 'El tempo cambia; una prueba tiene uno solo, así que exporta un fragmento sin cambios.',
  repeats: 'La música tiene signos de repetición; escribe los compases enteros y exporta otra vez.',
  'bar-long': 'El compás {bar} es más largo de lo que dice su cifra; corrígelo y exporta otra vez.',
  'note-value':
    'El compás {bar} tiene una figura que no está en ninguna prueba; las más cortas son fusas y tresillos, así que escribe notas más largas y exporta otra vez.',
  'no-pitch':
    'El compás {bar} tiene una nota sin altura; una prueba es para guitarra o bajo, así que exporta su parte.',
  'pitch-unread': 'El compás {bar} tiene una nota cuya altura no se puede leer; exporta el archivo otra vez.',
  'quarter-tone':
    'El compás {bar} tiene un cuarto de tono; en una prueba no los hay, así que escribe un semitono.',
  'grace-note': 'El compás {bar} tiene una nota de adorno; escríbela como una nota normal.',

  'piece-no-note': 'En el archivo no hay ninguna nota; exporta la parte con notas.',
  'piece-part-empty': 'En esta parte no hay ninguna nota; elige otra o expórtala otra vez.',
  'piece-choose': {
    by: 'parts',
    one: 'El archivo tiene una parte con notas; elígela.',
    other: 'El archivo tiene {parts} partes con notas; elige una de ellas.',
  },
  'piece-voices': 'En el compás {bar} suenan dos voces a la vez; elige la de arriba o la de abajo.',
  'piece-notes': 'La parte tiene {notes} notas; se leen como mucho {most}, así que exporta un fragmento.',
  'piece-long': 'La pieza tiene más de {most} compases; exporta un fragmento.',
  'piece-repeats-long': 'Con sus repeticiones la pieza tiene más de {most} compases; exporta un fragmento.',
  'piece-beyond-guitar':
    'La parte va de {low} a {high}, o toca a la vez más notas que cuerdas hay, y eso no lo tiene la guitarra con esta afinación; elige otra parte u otra afinación.',
  'piece-beyond-bass':
    'La parte va de {low} a {high}, o toca a la vez más notas que cuerdas hay, y eso no lo tiene el bajo con esta afinación; elige otra parte u otra afinación.',

  'link-damaged': 'El enlace está incompleto o mal escrito; cópialo entero e inténtalo otra vez.',
  'link-too-much': 'El enlace contiene mucho más que cualquier prueba; pide uno nuevo a quien te lo envió.',
  'link-newer': 'El enlace se hizo con un Twobar más nuevo; actualiza Twobar o pide un enlace nuevo.',
  'link-no-test': 'El enlace no contiene ninguna prueba; pide uno nuevo a quien te lo envió.',

  'table-long':
    'Esta tabla es demasiado larga para ser una lista; guarda en un archivo aparte las líneas que importan.',
  'table-binary':
    'Este archivo no es texto; guarda la tabla como CSV en tu hoja de cálculo y elige ese archivo.',
  'table-quote': 'La línea {line} de esta tabla tiene unas comillas sin cerrar; ciérralas o quítalas.',

  'test-newer':
    'Esta prueba se hizo con un Twobar más nuevo; actualiza Twobar o pide una exportación anterior.',
  'test-unread':
    'Twobar no puede leer esta prueba; hazla otra vez o pide una copia nueva a quien te la envió.',

  'code-length': 'Un código tiene {length} letras y cifras, como 1M3-00000KF-W; vuelve a mirar el tuyo.',
  'code-mistyped': 'Este código tiene un error al escribirlo: su última letra no encaja; vuelve a mirarlo.',
  'code-newer':
    'Este código se hizo con un Twobar más nuevo; actualiza Twobar o pide un enlace o un archivo de la prueba.',
  'code-unknown': 'Este código no es de ninguna prueba de ningún nivel; vuelve a mirarlo.',

  'scales-empty': 'Esta tabla está vacía: su primera línea nombra las columnas, como key, kind, octaves.',
  'scales-column': 'Esta tabla tiene una columna «{column}»; se conocen {known}.',
  'scales-no-column': 'A esta tabla le falta la columna «{column}»; añádela.',
  'scales-lines': 'Esta tabla tiene {lines} líneas, se leen como mucho {most}; divídela.',
  'scales-yes': 'Línea {line}: en {column} pone «{found}», puede ser yes o no.',
  'scales-key': 'Línea {line}: en key pone «{found}»; puede ser una letra con # o b, como F# o Eb.',
  'scales-kind': 'Línea {line}: en kind pone «{found}»; puede ser {known}.',
  'scales-octaves': 'Línea {line}: en octaves pone «{found}»; puede ser de 1 a 3.',
  'scales-string':
    'Línea {line}: en string pone «{found}»; puede quedar vacío o ser una cuerda, 1 para la más aguda.',
  'scales-position':
    'Línea {line}: en position pone «{found}»; puede quedar vacío o ser un traste, de 1 a 20.',
  'scales-direction': 'Línea {line}: en direction pone «{found}»; puede ser {known}.',
  'scales-values': 'Línea {line}: en values pone «{found}»; puede ser {known}.',
  'scales-tempo':
    'Línea {line}: en tempo pone «{found}»; puede ser de {slowest} a {fastest}, o dos tempos como 60-80, el más lento primero.',
  'scales-swung': 'Línea {line}: en swung pone «{found}»; puede ser yes si en values pone quavers, o no.',

  'chords-empty': 'Esta tabla está vacía: su primera línea nombra las columnas chord y shape.',
  'chords-column': 'Esta tabla tiene una columna «{column}»; se conocen chord y shape.',
  'chords-no-column': 'A esta tabla le falta la columna «chord»; añádela.',
  'chords-lines': 'Esta tabla tiene {lines} líneas, se leen como mucho {most}; divídela.',
  'chord-name': '«{found}» no es el nombre de un acorde; escríbelo como C, F#m7 o D/F#.',
  'chord-name-in': 'Línea {line}: «{found}» no es el nombre de un acorde; escríbelo como C, F#m7 o D/F#.',
  'chord-shape':
    '«{found}» no es una posición; escribe seis trastes desde la cuerda más grave, x para la que no se toca, como x32010.',
  'chord-shape-in':
    'Línea {line}: «{found}» no es una posición; escribe seis trastes desde la cuerda más grave, x para la que no se toca, como x32010.',
  'chord-unlike':
    'La posición {shape} no contiene {chord}; corrígela, o déjala vacía para cualquier posición.',
  'chord-unlike-in':
    'Línea {line}: la posición {shape} no contiene {chord}; corrígela, o déjala vacía para cualquier posición.',
};
