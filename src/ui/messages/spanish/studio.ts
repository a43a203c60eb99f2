import type { Translation } from '../catalogue.ts';

/** One record on many machines. */
export const STUDIO: Translation['texts'] = {
  'studio.title': 'Estudio',
  'studio.intro':
    'Un estudio guarda un mismo registro en varios dispositivos: en cada mesa de una escuela y en los teléfonos de sus alumnos. Funciona en un ordenador propio; lo que hay allí solo se puede leer en estos dispositivos.',
  'studio.none':
    'Este dispositivo no está en ningún estudio. Abre el enlace que mostró el servidor del estudio o el que te dio un profesor.',
  'studio.join': 'Entrar en el estudio',
  'studio.join.desk':
    'Lo que este dispositivo ha registrado pasa al estudio, y lo que tiene el estudio llega aquí.',
  'studio.join.again':
    'Este dispositivo ya está en un estudio. Sal de él primero y vuelve a abrir el enlace.',
  'studio.join.broken': 'El enlace no está completo. Cópialo entero o pide uno nuevo.',
  'studio.name': 'Cómo se llama este dispositivo',
  'studio.name.usual': 'Mi dispositivo',
  'studio.busy': 'Un momento …',
  'studio.line.all': 'todo enviado',
  'studio.line.pending': {
    by: 'count',
    one: '{count} cambio por enviar',
    other: '{count} cambios por enviar',
  },
  'studio.line.seen': '{what}; último contacto: {when}',
  'studio.line.never': '{what}; aún sin contacto',
  'studio.desks': 'Dispositivos',
  'studio.machine.desk': 'Mesa',
  'studio.machine.student': 'de {name}',
  'studio.machine.unnamed': 'Aún sin presentar',
  'studio.machine.self': 'este dispositivo',
  'studio.machine.seen': 'visto por última vez: {when}',
  'studio.remove': 'Quitar',
  'studio.remove.sure': '¿Quitar {name}? Conserva lo que tiene, pero ya no recibe ni envía nada.',
  'studio.remove.yes': 'Sí, quitarlo',
  'studio.keep': 'Conservarlo',
  'studio.invite': 'Invitar un dispositivo',
  'studio.invite.whose': 'De quién',
  'studio.invite.desk': 'De un profesor: puede hacerlo todo',
  'studio.invite.make': 'Crear un enlace',
  'studio.invite.open': 'Ábrelo en el otro dispositivo. Sirve una sola vez, durante una semana.',
  'studio.qr': 'El enlace como código QR',
  'studio.copy': 'Copiar el enlace',
  'studio.copied': 'Copiado',
  'studio.sheet': 'Hoja de recuperación',
  'studio.sheet.why':
    'Si se pierden todos los dispositivos, nadie podrá leer el registro. Con una hoja impresa vuelves a entrar; guárdala donde guardas las llaves.',
  'studio.sheet.make': 'Crear la hoja',
  'studio.sheet.print': 'Imprimir',
  'studio.sheet.text':
    'Quien tenga esta hoja puede leer todo el estudio. En un dispositivo nuevo abre {address} y escribe:',
  'studio.recover': 'Entrar con la hoja de recuperación',
  'studio.recover.code': 'Lo que dice la hoja',
  'studio.leave': 'Salir del estudio',
  'studio.leave.sure':
    '¿Salir? El registro se queda en este dispositivo y un profesor tendrá que invitarlo de nuevo.',
  'studio.leave.yes': 'Sí, salir',
  'studio.now': 'Enviar y recibir ahora',
  'studio.sound': 'Sonido de las tomas',
  'studio.sound.switch': 'El sonido de las tomas va también al estudio',
  'studio.sound.off': 'No, se queda en el dispositivo que lo grabó',
  'studio.sound.on': 'Sí, cifrado',
  'studio.sound.what':
    'Un dispositivo que guarda el sonido de sus tomas envía entonces el de cada toma nueva: cerca de 1 MB por minuto. Pueden oírlo todos los profesores del estudio y los dispositivos del propio alumno; el servidor no. Las tomas anteriores se quedan donde están. El estudio guarda hasta {limit} MB; después la más antigua deja sitio.',
  'studio.sound.use': {
    by: 'takes',
    one: 'El estudio guarda el sonido de una toma: {mb} de {limit} MB.',
    other: 'El estudio guarda el sonido de {takes} tomas: {mb} de {limit} MB.',
  },
  'studio.sound.sure': {
    by: 'takes',
    one: '¿Desactivarlo? Ya no se envía nada, y el sonido de una toma ({mb} MB) se borra en el estudio. Lo que han guardado los dispositivos se queda en ellos.',
    other:
      '¿Desactivarlo? Ya no se envía nada, y el sonido de {takes} tomas ({mb} MB) se borra en el estudio. Lo que han guardado los dispositivos se queda en ellos.',
  },
  'studio.sound.yes': 'Sí, desactivarlo y borrarlo',
  'studio.sound.keep': 'Dejarlo activado',
  'studio.sound.student':
    'Si este dispositivo guarda el sonido de las tomas, va también al estudio, cifrado. Los profesores pueden oírlo.',
  'studio.sound.there': 'El sonido de esta toma está en el estudio.',
  'studio.sound.hear': 'Traerlo y escuchar',
  'studio.sound.gone': 'El sonido de esta toma ya no está en el estudio.',
  'studio.sound.not-fetched': 'El sonido no llegó: {why}.',
  'conflict.studio': 'En el estudio: {what}',
  'studio.problem.offline': 'el estudio no responde; todo queda aquí y se enviará después',
  'studio.problem.unknown-device': 'este dispositivo ya no está en el estudio; un profesor puede invitarlo',
  'studio.problem.student-gone': 'este alumno fue eliminado del estudio',
  'studio.problem.bad-invite': 'el enlace ya se usó, se retiró o caducó; pide uno nuevo',
  'studio.problem.old-schema':
    'otros dispositivos tienen una versión más nueva; vuelve a cargar la aplicación',
  'studio.problem.newer-protocol':
    'la aplicación y el servidor tienen versiones distintas; vuelve a cargar la aplicación',
  'studio.problem.full': 'el estudio está lleno; quien lo administra puede ayudar',
  'studio.problem.too-often': 'este dispositivo preguntó demasiadas veces; seguirá en un minuto',
  'studio.problem.other': 'algo salió mal; no se pierde nada y se intentará de nuevo',
};
