import type { Translation } from '../catalogue.ts';

/** Two months side by side, and the page for parents, in German. */
export const REPORT: Translation['texts'] = {
  'report.link': 'Zwei Monate, und eine Seite für die Eltern',
  'report.title': 'Wie es vorangeht',
  'report.before': 'Monat davor',
  'report.after': 'Monat',
  'report.none': 'Noch wurde nichts gespielt.',
  'report.intro':
    '{name} übt, eine kurze Phrase zu hören und nachzuspielen, wie in einer praktischen Prüfung.',
  'report.row.tests': 'Gespielte Tests',
  'report.row.strict': 'davon wie in einer Prüfung',
  'report.row.there': 'Geschafft',
  'report.row.median': 'Übliche Punkte von 100, wie in einer Prüfung',
  'report.row.levels': 'Stufen (1 ist die erste, 10 die letzte)',
  'report.levels': '{low} bis {high}',
  'report.dash': '–',
  'report.better': 'Was jetzt besser geht',
  'report.worse': 'Was vorher besser ging',
  'report.next': 'Woran als Nächstes zu arbeiten ist',
  'report.change': '{part}: damals {before} von 10, jetzt {after} von 10',
  'report.share': '{part}: {after} von 10',
  'report.same': 'Keine Veränderung, die nicht Zufall sein kann.',
  'report.few': 'In diesen Monaten sind es zu wenige Töne, um eine Veränderung zu nennen.',
  'report.line': 'Eine Zeile der Lehrkraft',
  'report.print': 'Seite drucken',
  'report.fair':
    'Punkte sind Rückmeldung zum Üben. Was in einer Prüfung zählt, entscheiden die Lehrkraft und der Lehrplan der Prüfungsstelle.',

  'sound.ask.desk': 'Den Ton der Takes aufheben, damit ihr die Tests der Stunde noch einmal hören könnt?',
  'sound.ask.result':
    'Den Ton deiner Takes aufheben, damit du oder deine Lehrkraft sie noch einmal hören könnt?',
  'sound.ask.help': 'Nur auf diesem Gerät, bis 200 MB; unter Daten zu ändern.',
  'sound.ask.studio':
    'Auf diesem Gerät, bis 200 MB, und verschlüsselt im Studio, wo die Lehrkräfte ihn hören können; unter Daten zu ändern.',
  'sound.ask.yes': 'Ton aufheben',
  'sound.ask.no': 'Nein, Punkte genügen',
};
