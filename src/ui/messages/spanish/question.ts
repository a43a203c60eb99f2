import type { Translation } from '../catalogue.ts';

/** The question about the rhythm, and where a phrase lies, in Spanish. */
export const QUESTION: NonNullable<Translation['texts']> = {
  'start.position': 'Dónde en el mástil',
  'start.position.level': 'Según el nivel',
  'start.position.open': 'Primera posición',
  'start.position.II': 'II (desde el 2.º traste)',
  'start.position.V': 'V (desde el 5.º traste)',
  'start.position.VII': 'VII (desde el 7.º traste)',
  'start.position.XII': 'XII (desde el 12.º traste)',
  'start.position.any': 'En cualquier parte',
  'score.label.chords':
    'La frase en pentagrama y tablatura con una valoración bajo cada nota, sobre estos acordes: {chords}',
  'edit.allUp': 'Toda la frase una octava arriba',
  'edit.allDown': 'Toda la frase una octava abajo',
  'edit.moved.down':
    'Tu instrumento no tiene notas tan agudas: toda la frase se bajó una octava. Mira si eso es lo que querías.',
  'edit.moved.up':
    'Tu instrumento no tiene notas tan graves: toda la frase se subió una octava. Mira si eso es lo que querías.',
  'question.form': 'La pregunta de después',
  'question.form.which': 'Cuál de los dos',
  'question.form.which.help': 'Dos ritmos escritos: ¿cuál era?',
  'question.form.beat': 'Encontrar la diferencia',
  'question.form.beat.help': 'Un ritmo escrito: ¿en qué tiempo no es lo que oíste?',
  'question.form.part': 'Dónde se separan',
  'question.form.part.help': 'Dos ritmos escritos, uno sobre otro: ¿en qué tiempo se separan?',
  'question.beat.title': '¿En qué tiempo es distinto de lo que oíste?',
  'question.part.title': '¿En qué tiempo se separan estos dos?',
  'question.beat.pick': 'Compás {bar}, tiempo {beat}',
  'question.beat.keys':
    'Espacio o Av Pág: el tiempo siguiente. Re Pág: esa es mi respuesta. O toca un tiempo.',
  'question.written': 'El ritmo escrito',
  'result.answer.beat.right': 'Dijiste {said}. Ahí es distinto.',
  'result.answer.beat.wrong': 'Dijiste {said}. Es distinto en {where}.',
  'result.answer.part.right': 'Dijiste {said}. Ahí se separan.',
  'result.answer.part.wrong': 'Dijiste {said}. Se separan en {where}.',
  'result.answer.place': 'compás {bar}, tiempo {beat}',
  'result.answer.held': 'Lo tocaste bien. Con la respuesta correcta sería «Conseguido».',
  'outcomes.question': 'Una respuesta equivocada sobre el ritmo impide «Conseguido»',
  'outcomes.question.strict': 'Solo como en un examen',
  'outcomes.question.always': 'Siempre',
  'outcomes.question.never': 'Nunca',
  'progress.question': 'Preguntas sobre el ritmo',
  'progress.question.which': 'Cuál de los dos: {right} de {of} bien.',
  'progress.question.beat': 'Encontrar la diferencia: {right} de {of} bien.',
  'progress.question.part': 'Dónde se separan: {right} de {of} bien.',
  'keys.does.beat': 'el tiempo siguiente',
};
