import type { Translation } from '../catalogue.ts';

/** The question about the rhythm, and where a phrase lies, in German. */
export const QUESTION: NonNullable<Translation['texts']> = {
  'start.position': 'Wo auf dem Griffbrett',
  'start.position.level': 'Wie die Stufe es vorsieht',
  'start.position.open': 'Erste Lage (Leersaiten)',
  'start.position.II': 'II (ab dem 2. Bund)',
  'start.position.V': 'V (ab dem 5. Bund)',
  'start.position.VII': 'VII (ab dem 7. Bund)',
  'start.position.XII': 'XII (ab dem 12. Bund)',
  'start.position.any': 'Überall',
  'score.label.chords':
    'Die Phrase in Noten und Tabulatur mit einem Urteil unter jeder Note, über diesen Akkorden: {chords}',
  'edit.allUp': 'Ganze Phrase eine Oktave höher',
  'edit.allDown': 'Ganze Phrase eine Oktave tiefer',
  'edit.moved.down':
    'So hohe Töne hat dein Instrument nicht: die ganze Phrase wurde eine Oktave tiefer gesetzt. Sieh nach, ob das so gemeint war.',
  'edit.moved.up':
    'So tiefe Töne hat dein Instrument nicht: die ganze Phrase wurde eine Oktave höher gesetzt. Sieh nach, ob das so gemeint war.',
  'question.form': 'Die Frage danach',
  'question.form.which': 'Welcher von beiden',
  'question.form.which.help': 'Zwei notierte Rhythmen: welcher war es?',
  'question.form.beat': 'Den Unterschied finden',
  'question.form.beat.help': 'Ein notierter Rhythmus: auf welchem Schlag ist er nicht, was du gehört hast?',
  'question.form.part': 'Wo sie sich trennen',
  'question.form.part.help': 'Zwei notierte Rhythmen übereinander: auf welchem Schlag trennen sie sich?',
  'question.beat.title': 'Auf welchem Schlag ist das anders als das, was du gehört hast?',
  'question.part.title': 'Auf welchem Schlag trennen sich diese beiden?',
  'question.beat.pick': 'Takt {bar}, Schlag {beat}',
  'question.beat.keys':
    'Leertaste oder Bild ab: der nächste Schlag. Bild auf: das ist meine Antwort. Oder tippe auf einen Schlag.',
  'question.written': 'Der notierte Rhythmus',
  'result.answer.beat.right': 'Deine Antwort: {said}. Dort ist er anders.',
  'result.answer.beat.wrong': 'Deine Antwort: {said}. Anders ist er bei {where}.',
  'result.answer.part.right': 'Deine Antwort: {said}. Dort trennen sie sich.',
  'result.answer.part.wrong': 'Deine Antwort: {said}. Sie trennen sich bei {where}.',
  'result.answer.place': 'Takt {bar}, Schlag {beat}',
  'result.answer.held': 'Gespielt war es richtig. Mit der richtigen Antwort wäre es „Geschafft“.',
  'outcomes.question': 'Eine falsche Antwort zum Rhythmus schließt „Geschafft“ aus',
  'outcomes.question.strict': 'Nur wie in einer Prüfung',
  'outcomes.question.always': 'Immer',
  'outcomes.question.never': 'Nie',
  'progress.question': 'Fragen zum Rhythmus',
  'progress.question.which': 'Welcher von beiden: {right} von {of} richtig.',
  'progress.question.beat': 'Den Unterschied finden: {right} von {of} richtig.',
  'progress.question.part': 'Wo sie sich trennen: {right} von {of} richtig.',
  'keys.does.beat': 'der nächste Schlag',
};
