import type { Translation } from '../catalogue.ts';

/** Two months side by side, and the page for parents, in Spanish. */
export const REPORT: Translation['texts'] = {
  'report.link': 'Dos meses, y una página para los padres',
  'report.title': 'Cómo va',
  'report.before': 'Mes anterior',
  'report.after': 'Mes',
  'report.none': 'Aún no se ha tocado nada.',
  'report.intro': '{name} practica oír una frase corta y tocarla, como en un examen práctico.',
  'report.row.tests': 'Pruebas tocadas',
  'report.row.strict': 'de ellas, como en un examen',
  'report.row.there': 'Conseguidas',
  'report.row.median': 'Puntuación habitual sobre 100, como en un examen',
  'report.row.levels': 'Niveles (1 es el primero, 10 el último)',
  'report.levels': '{low} a {high}',
  'report.dash': '–',
  'report.better': 'Lo que ahora sale mejor',
  'report.worse': 'Lo que antes salía mejor',
  'report.next': 'En qué trabajar ahora',
  'report.change': '{part}: antes {before} de 10, ahora {after} de 10',
  'report.share': '{part}: {after} de 10',
  'report.same': 'Ningún cambio que no pueda ser casual.',
  'report.few': 'En estos meses hay muy pocas notas para nombrar un cambio.',
  'report.line': 'Una línea del profesor',
  'report.print': 'Imprimir la página',
  'report.fair':
    'La puntuación es una orientación para practicar. Lo que cuenta en un examen lo deciden el profesor y el programa del centro examinador.',

  'sound.ask.desk': '¿Guardar el sonido de las tomas, para poder oír otra vez las pruebas de la clase?',
  'sound.ask.result': '¿Guardar el sonido de tus tomas, para que tú o tu profesor podáis oírlas otra vez?',
  'sound.ask.help': 'Solo en este dispositivo, hasta 200 MB; se cambia en Datos.',
  'sound.ask.studio':
    'En este dispositivo, hasta 200 MB, y cifrado en el estudio, donde los profesores pueden oírlo; se cambia en Datos.',
  'sound.ask.yes': 'Guardar el sonido',
  'sound.ask.no': 'No, basta la puntuación',
};
