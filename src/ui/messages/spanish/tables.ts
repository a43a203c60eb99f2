import { PIECE_ADVICE } from './pieces.ts';
import type { Translation } from '../catalogue.ts';

/** Advice, small parts, keys and what stands in the way, in Spanish. */
export const TABLES: Omit<Translation, 'texts'> = {
  advice: {
    ...PIECE_ADVICE,
    'all-right': 'Perfecto: todas las notas, a tiempo. Haz otra prueba, o sube un nivel.',
    nearly: 'Casi: nada en un sitio concreto, solo detalles. Tócala otra vez atendiendo al tiempo.',
    'nothing-played': 'No he oído notas. Comprueba que el micrófono te oye y prueba otra vez.',
    'wrong-note': 'Una nota quedó {interval} {high}: {place}. Canta ese punto y búscalo luego en la cuerda.',
    'wrong-notes':
      '{count} notas no eran las correctas, la primera: {place}. Escúchala otra vez y cántala antes de tocar.',
    'many-wrong-notes':
      '{count} de {of} notas no eran las correctas. Ve más despacio: busca la primera nota y canta la frase compás a compás.',
    'wrong-start':
      'La melodía es esa, pero empezaste {interval} {high}. Antes de tocar, canta la primera nota que te dieron.',
    'octave-off':
      'Todas las notas están bien, una octava {higher}. Busca el mismo comienzo en la otra octava.',
    'octave-slip': 'En {place} caíste una octava {high}. La nota es esa; busca la que te queda más cerca.',
    'moved-pitch': 'Desde {place} ibas {interval} {high}. Revisa ese salto: cántalo y luego tócalo despacio.',
    'came-in-late':
      'Entraste {by} tarde y así seguiste. Cuenta los cuatro tiempos en voz alta y empieza en el siguiente «uno».',
    'came-in-early': 'Entraste {by} antes y así seguiste. Espera toda la cuenta y empieza en «uno».',
    'shifted-late': 'Ibas {by} tarde desde {place}. Marca el pulso con el pie en ese punto y sigue contando.',
    'shifted-early':
      'Ibas {by} por delante desde {place}. Mantén la nota o el silencio anterior toda su duración.',
    'stretch-late':
      '{count} notas desde {place} llegaron {by} tarde, y luego volviste. Cuenta durante ese pasaje.',
    'stretch-early':
      '{count} notas desde {place} llegaron {by} antes, y luego volviste. Deja que llegue el pulso.',
    hesitated:
      'Esperaste en {place} y luego te recuperaste bien. Practica el paso a esa nota hasta que salga solo.',
    paused: 'Te detuviste un momento antes de {place}. Practica pasando por ahí, despacio y sin pausa.',
    restarted:
      'Volviste a {place} y empezaste de nuevo. En una prueba sigue adelante: una nota que falta cuesta menos que una parada.',
    stopped: 'Paraste después de {place}; lo que tocaste cuenta. Aprende el compás siguiente y únelo.',
    'joined-late': 'Entraste en {place}. Escucha cómo empieza y ten listas las primeras notas.',
    'left-out': 'Te saltaste el compás {bar}.',
    'left-out-bars': 'Te saltaste los compases {bar} a {toBar}.',
    'missed-note': 'Faltó una nota: {place}. Escúchala otra vez y cuenta cuántas notas hay.',
    'missed-notes':
      'Faltaron {count} notas, la primera: {place}. Primero haz la frase con palmas, luego tócala.',
    'extra-note':
      'Una nota de más, después de {place}. Apaga la cuerda que aún suena, o cuenta las notas otra vez.',
    'extra-notes': '{count} notas de más. Haz la frase con palmas, cuenta sus notas y toca solo esas.',
    'wrong-rhythm':
      'Las notas correctas con otro ritmo. Haz el ritmo con palmas, sin la guitarra, y luego pon las notas.',
    'note-early': 'Una nota llegó {ms} ms antes: {place}. Da a la nota anterior toda su duración.',
    'note-late': 'Una nota llegó {ms} ms tarde: {place}. Ten el dedo listo un tiempo antes.',
    'notes-early':
      '{count} notas llegaron antes de tiempo, la primera: {place}. Apóyate en la batería y deja llegar cada pulso.',
    'notes-late':
      '{count} notas llegaron tarde, la primera: {place}. Piensa una nota por delante y no pares el pie.',
    'steady-late':
      'Regular, pero {ms} ms por detrás del pulso todo el rato. Al tocar escucha la batería, no a ti.',
    'steady-early':
      'Regular, pero {ms} ms por delante del pulso todo el rato. Relájate y espera a la batería.',
    uneven: 'Las notas están bien; el pulso oscila unos {ms} ms. Tócala despacio con claqueta.',
    'speeding-up':
      'Te aceleraste un {percent} % por el camino. Marca el pulso con el pie y deja que te sujete.',
    'slowing-down':
      'Te frenaste un {percent} % por el camino. Ten lista la nota siguiente y no pares el pie.',
    unclear: 'Lo que no se oyó con claridad ({count}) no te cuesta nada. Toca más cerca del micrófono.',
    'other-pitch': 'Aquí solo cuenta el ritmo; de paso, la altura no siempre fue la escrita ({count}).',
    'wait-crossing':
      'Esperas al pasar de la {fromString} a la {nextString} cuerda: unos {ms} ms. Toca esas dos notas de ida y vuelta hasta que la púa llegue antes del pulso.',
    'wait-shift':
      'El cambio ({positionName}) cuesta unos {ms} ms: {place}. Mira el traste de llegada y muévete tan pronto como deje la última nota.',
    'wait-turn':
      'Esperas unos {ms} ms antes de volver. Toca las dos últimas notas subiendo y bajando hasta que la vuelta sea como otra nota cualquiera.',
    'wait-note': 'Esperas unos {ms} ms: {place}. Llega a esa nota desde las tres anteriores.',
    'hurried-end':
      'Las tres últimas notas las aceleras un {percent} %. Mantén el tempo hasta la última; cuenta más allá de ella.',
    'too-slow': 'Tocaste a {bpm} bpm; se piden al menos {asked}. Súbelo un poco cada día.',
    'too-fast':
      'Tocaste a {bpm} bpm; se piden como mucho {asked}. Fija el tempo en tu cabeza antes de empezar.',
    straight: 'Se pedía swing, y tus corcheas van {ratio} a 1. Haz la primera de cada par el doble de larga.',
    accents:
      'Las notas tras un cambio de cuerda destacan {dB} dB. Tócalas con la misma ligereza que las demás.',
  },
  adviceOfKnown: {
    'wrong-note':
      'Una nota quedó {interval} {high}: {place}. Di primero qué nota es y búscala luego en la cuerda.',
    'wrong-notes':
      '{count} notas no eran las correctas, la primera: {place}. Di el nombre de cada una y tócalas despacio.',
    'many-wrong-notes':
      '{count} de {of} notas no eran las correctas. Ve más despacio: busca la primera nota y sigue compás a compás.',
    'wrong-start':
      'Los pasos son esos, pero empezaste {interval} {high}. Busca la tonalidad y la primera nota antes de empezar.',
    'moved-pitch':
      'Desde {place} ibas {interval} {high}. Revisa ese salto: di las dos notas y luego tócalo despacio.',
    'joined-late': 'Entraste en {place}. Ten las primeras notas en la mano antes de empezar.',
    'missed-note': 'Faltó una nota: {place}. Cuenta ese compás en voz alta y luego tócalo.',
    'missed-notes':
      'Faltaron {count} notas, la primera: {place}. Primero haz ese compás con palmas, luego tócalo.',
    'extra-notes': '{count} notas de más. Haz el ritmo con palmas, cuenta sus notas y toca solo esas.',
    'notes-early':
      '{count} notas llegaron antes de tiempo, la primera: {place}. No pares el pie y deja llegar cada pulso.',
    'steady-late':
      'Regular, pero {ms} ms por detrás del pulso todo el rato. Al tocar escucha la claqueta, no a ti.',
    'steady-early':
      'Regular, pero {ms} ms por delante del pulso todo el rato. Relájate y espera a la claqueta.',
  },
  audioProblems: {
    'no-audio-worklet': {
      text: 'Este navegador no puede escuchar con suficiente precisión.',
      remedy: 'Actualízalo, o abre Twobar en un Chrome, Edge, Firefox o Safari actual.',
    },
    'insecure-context': {
      text: 'El navegador no da micrófono a una página en esta dirección.',
      remedy: 'Abre Twobar desde una dirección https, o desde localhost en este dispositivo.',
    },
    'permission-refused': {
      text: 'El micrófono no está permitido en esta página.',
      remedy:
        'Permítelo en los ajustes del navegador para este sitio (junto a la dirección) y prueba otra vez.',
    },
    'no-microphone': {
      text: 'No se encontró ningún micrófono.',
      remedy: 'Conecta uno, o tu interfaz de audio, y prueba otra vez.',
    },
    'microphone-busy': {
      text: 'Otro programa está usando el micrófono.',
      remedy: 'Cierra llamadas y programas de grabación y prueba otra vez.',
    },
    'microphone-unplugged': {
      text: 'El micrófono se ha desconectado.',
      remedy: 'Conéctalo de nuevo y prueba otra vez.',
    },
    'context-suspended': {
      text: 'El navegador ha pausado el sonido.',
      remedy: 'Pulsa Espacio o toca la página para seguir.',
    },
    'processing-not-off': {
      text: 'El navegador cambia el sonido para la voz y no deja desactivarlo; pueden perderse notas.',
      remedy: 'Usa otro navegador, otro micrófono o una interfaz de audio.',
    },
    headset: {
      text: 'Unos auriculares inalámbricos bajan a calidad de teléfono con su micrófono abierto.',
      remedy: 'Elige otro micrófono; los auriculares sirven igual para escuchar.',
    },
    'narrow-band': {
      text: 'El micrófono suena como un teléfono (nada por encima de 8 kHz); es difícil situar el comienzo de las notas.',
      remedy: 'Elige otro micrófono, o quita el modo de llamada en los ajustes de sonido del sistema.',
    },
    'assets-missing': {
      text: 'No se pudieron obtener los sonidos.',
      remedy: 'Comprueba la conexión para esta primera carga y prueba otra vez.',
    },
  },
  notMarked: {
    described: {
      text: 'La improvisación se describe, no se puntúa.',
      remedy: 'Lee lo que se dice de ella y deja que tu profesor diga lo que ha oído.',
    },
    'for-teacher': {
      text: 'Esto lo puntúa tu profesor.',
      remedy: 'Abajo está lo que se puede decir de ello.',
    },
    silence: {
      text: 'No se oyó nada.',
      remedy: 'Comprueba el micrófono y el nivel en la prueba de sonido y toca otra vez.',
    },
    'too-quiet': {
      text: 'Tocaste demasiado flojo para poder juzgarte.',
      remedy: 'Acércate al micrófono o sube la entrada.',
    },
    clipped: {
      text: 'La entrada estaba demasiado fuerte y distorsionada.',
      remedy: 'Baja la entrada o aléjate del micrófono.',
    },
    'no-stream': {
      text: 'El sonido del micrófono se cortó o tenía huecos.',
      remedy: 'Comprueba el cable, cierra otros programas y toca otra vez.',
    },
    'not-an-instrument': {
      text: 'Lo que se oyó no era una guitarra ni un bajo.',
      remedy: 'Acerca el micrófono al instrumento y mantén la sala en silencio durante la toma.',
    },
    'backing-only': {
      text: 'Solo se oyó el acompañamiento.',
      remedy: 'Toca después de la cuenta; si lo hiciste, comprueba qué micrófono está elegido.',
    },
    'backing-too-loud': {
      text: 'El acompañamiento sonaba más fuerte que tú.',
      remedy: 'Usa auriculares, baja los altavoces o acércate al micrófono.',
    },
    unclear: {
      text: 'Muchas notas no se oían con claridad.',
      remedy: 'Deja sonar cada nota, apaga las demás cuerdas y acércate al micrófono.',
    },
    'no-target': { text: 'Esta prueba no tiene notas con las que comparar.', remedy: 'Elige otra prueba.' },
    'nothing-played': {
      text: 'No se oyeron notas.',
      remedy: 'Toca después de la cuenta; si lo hiciste, comprueba el nivel en la prueba de sonido.',
    },
  },
  parts: {
    repeat: 'notas repetidas',
    'step-up': 'pasos hacia arriba',
    'step-down': 'pasos hacia abajo',
    'third-up': 'terceras hacia arriba',
    'third-down': 'terceras hacia abajo',
    'fourth-up': 'cuartas hacia arriba',
    'fourth-down': 'cuartas hacia abajo',
    'fifth-up': 'quintas hacia arriba',
    'fifth-down': 'quintas hacia abajo',
    'wide-up': 'saltos grandes hacia arriba',
    'wide-down': 'saltos grandes hacia abajo',
    'degree-1': 'tónicas (grado 1)',
    'degree-2': 'notas del grado 2',
    'degree-3': 'notas del grado 3',
    'degree-4': 'notas del grado 4',
    'degree-5': 'notas del grado 5',
    'degree-6': 'notas del grado 6',
    'degree-7': 'notas del grado 7',
    chromatic: 'notas fuera de la escala',
    turn: 'giros después de un salto',
    opening: 'primeras notas de una frase',
    ending: 'últimas notas de una frase',
    'on-beat': 'notas a tiempo',
    'off-beat': 'notas a contratiempo',
    'quarter-beat': 'notas a una semicorchea del tiempo',
    triplet: 'notas de tresillo',
    'crotchet-gap': 'notas a un tiempo o más de distancia',
    'quaver-gap': 'notas a medio tiempo de distancia',
    'short-gap': 'notas rápidas',
    'after-rest': 'notas tras un silencio',
    'after-dot': 'notas tras una con puntillo',
    'over-beat': 'notas tras una mantenida sobre el tiempo',
    slow: 'notas en tempos lentos',
    medium: 'notas en tempos medios',
    fast: 'notas en tempos rápidos',
    'first-bar': 'notas del primer compás',
    'later-bars': 'notas de compases posteriores',
    compound: 'notas en tiempos de tres',
    'odd-metre': 'notas en compases de amalgama',
  },
  scales: {
    major: '{tonic} mayor',
    minor: '{tonic} menor',
    'minor pentatonic': '{tonic} pentatónica menor',
    'major pentatonic': '{tonic} pentatónica mayor',
    'harmonic minor': '{tonic} menor armónica',
    'melodic minor': '{tonic} menor melódica',
    blues: '{tonic} blues',
    dorian: '{tonic} dórico',
    phrygian: '{tonic} frigio',
    lydian: '{tonic} lidio',
    mixolydian: '{tonic} mixolidio',
    aeolian: '{tonic} eólico',
    locrian: '{tonic} locrio',
    chromatic: '{tonic} cromática',
    'natural minor': '{tonic} menor natural',
    'major arpeggio': 'arpegio de {tonic} mayor',
    'minor arpeggio': 'arpegio de {tonic} menor',
    'dominant seventh arpeggio': 'arpegio de {tonic} séptima de dominante',
    'major seventh arpeggio': 'arpegio de {tonic} séptima mayor',
    'minor seventh arpeggio': 'arpegio de {tonic} menor con séptima',
    'diminished seventh arpeggio': 'arpegio de {tonic} séptima disminuida',
  },
  storeProblems: {
    quota: {
      text: 'El disco, o la parte que le toca al navegador, está lleno.',
      remedy:
        'Guarda una copia, luego libera espacio o baja el límite de sonido en Datos. Las pruebas anteriores están a salvo.',
    },
    disk: {
      text: 'El navegador no llega a los datos del disco, que puede estar lleno.',
      remedy: 'Libera algo de espacio y prueba otra vez. Lo escrito antes está a salvo.',
    },
    blocked: {
      text: 'Otra pestaña tiene abierto un Twobar más antiguo.',
      remedy: 'Cierra las demás pestañas de Twobar y vuelve a cargar esta página.',
    },
    closed: {
      text: 'Otra pestaña o el navegador cerró los datos.',
      remedy: 'Vuelve a cargar esta página. Lo escrito antes está a salvo.',
    },
    evicted: {
      text: 'El navegador ha borrado los datos que había aquí.',
      remedy: 'Restaura tu última copia en Datos.',
    },
    unavailable: {
      text: 'Este navegador no guarda nada aquí; quizá sea una ventana privada.',
      remedy: 'Abre Twobar en una ventana normal para guardar datos. Las pruebas funcionan sin ellos.',
    },
    'newer-version': {
      text: 'Los datos los escribió un Twobar más nuevo.',
      remedy: 'Vuelve a cargar la página con conexión para actualizar Twobar. No se ha cambiado nada.',
    },
    slow: {
      text: 'El navegador no responde al abrir los datos.',
      remedy:
        'Cierra las demás pestañas de Twobar y reinicia el navegador. Mientras, las pruebas funcionan, pero no se guardan.',
    },
    missing: {
      text: 'Ese dato ya no está aquí.',
      remedy: 'Quizá se borró en otra pestaña. Vuelve y elige de nuevo.',
    },
    failed: {
      text: 'No se pudieron leer o escribir los datos.',
      remedy: 'Prueba otra vez. Si vuelve a pasar, guarda una copia si puedes y reinicia el navegador.',
    },
  },
  importProblems: {
    'not-ours': {
      text: 'Este no es un archivo de Twobar.',
      remedy: 'Elige el archivo que guardó Twobar. No se ha cambiado nada.',
    },
    truncated: {
      text: 'El archivo o el enlace está cortado.',
      remedy: 'Cópialo o descárgalo otra vez, entero. No se ha cambiado nada.',
    },
    corrupt: {
      text: 'El archivo o el enlace está dañado.',
      remedy: 'Usa otra copia. No se ha cambiado nada.',
    },
    'newer-version': {
      text: 'Lo hizo un Twobar más nuevo.',
      remedy: 'Abre Twobar de nuevo con conexión y prueba otra vez. No se ha cambiado nada.',
    },
    invalid: {
      text: 'Contiene algo que no puede ser correcto.',
      remedy: 'Usa otra copia. No se ha cambiado nada.',
    },
    'too-big': {
      text: 'Es mucho mayor que cualquier archivo de Twobar.',
      remedy: 'Elige otro archivo. No se ha cambiado nada.',
    },
    'wrong-kind': {
      text: 'Es un archivo de Twobar, pero de otro tipo.',
      remedy:
        'Las copias se restauran en Datos, los resultados de deberes en Clases. No se ha cambiado nada.',
    },
    'unknown-homework': {
      text: 'Estos deberes no se pusieron en este dispositivo.',
      remedy: 'Elige de quién son los resultados. No se ha cambiado nada.',
    },
  },
  chordSentences: {
    'not-heard': 'Esta toma no se oyó lo bastante bien para evaluarla: {why}',
    'chords-right': 'Eran esos acordes, y a tiempo. Toma otros, o un tempo más rápido.',
    'chord-another':
      'En lugar de {chord} sonó otro acorde. Mira su posición otra vez y cambia a él despacio.',
    'chord-replaced': '{chord} tenía {instead} donde va {note}. Revisa el dedo en esa cuerda.',
    'chord-missing': 'A {chord} le faltó {note}. Tócalo cuerda a cuerda: una está apagada o no se toca.',
    'chord-foreign': 'En {chord} sonó {note}, que no es suya. Apaga esa cuerda, o no la toques.',
    'chord-bass': '{chord} tenía otra nota en el bajo. Empieza el rasgueo en la cuerda de su bajo.',
    'chord-missed': '{chord} no se tocó. Sigue contando y continúa con el siguiente.',
    'change-late': 'El cambio de {from} a {to} tardó {ms} ms de más. Practica esos dos solos, sin rasguear.',
    'chords-late': 'Tus rasgueos llegaron {ms} ms tarde. Empieza a mover la mano antes del pulso.',
    'chords-early': 'Tus rasgueos llegaron {ms} ms antes. Deja que el compás dure entero.',
    'chord-extra': 'Se rasgueó más de lo pedido ({count} más). Aquí basta un rasgueo por acorde.',
    'chord-unsure': 'Algunos acordes no se pudieron reconocer con seguridad ({count}). No te cuestan nada.',
  },
  chordSpoken: {
    major: '{root} mayor',
    minor: '{root} menor',
    diminished: '{root} disminuido',
    augmented: '{root} aumentado',
    fifth: '{root} quinta',
    'suspended second': '{root} sus dos',
    'suspended fourth': '{root} sus cuatro',
    sixth: '{root} sexta',
    'minor sixth': '{root} menor sexta',
    'dominant seventh': '{root} séptima',
    'major seventh': '{root} séptima mayor',
    'minor seventh': '{root} menor séptima',
    'minor major seventh': '{root} menor, séptima mayor',
    'half-diminished': '{root} menor séptima, quinta bemol',
    'diminished seventh': '{root} séptima disminuida',
    'suspended seventh': '{root} séptima, sus cuatro',
    'added ninth': '{root} add nueve',
    'dominant ninth': '{root} novena',
    'minor ninth': '{root} menor novena',
    'major ninth': '{root} novena mayor',
  },
  chordDoubts: {
    'out-of-tune': {
      text: 'Las cuerdas no están afinadas entre sí.',
      remedy: 'Afínala y toca otra vez.',
    },
    'too-short': {
      text: 'El acorde no sonó bastante tiempo.',
      remedy: 'Deja sonar cada acorde al menos medio segundo.',
    },
    'too-quiet': {
      text: 'El acorde apenas sobresalía del ruido.',
      remedy: 'Acércate al micrófono o toca un poco más fuerte.',
    },
    'not-a-chord': {
      text: 'Mucho de lo que sonó no venía de las cuerdas.',
      remedy: 'Toca donde haya silencio, o usa auriculares para el acompañamiento.',
    },
    close: {
      text: 'Estaba demasiado igualado para decidir.',
      remedy: 'Deja sonar todas las cuerdas por igual; no te cuesta nada.',
    },
  },
};
