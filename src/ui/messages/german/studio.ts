import type { Translation } from '../catalogue.ts';

/** One record on many machines. */
export const STUDIO: Translation['texts'] = {
  'studio.title': 'Studio',
  'studio.intro':
    'Ein Studio hält eine Aufzeichnung auf mehreren Geräten: auf jedem Pult einer Schule und auf den Telefonen der Schüler. Es läuft auf einem eigenen Rechner; lesen lässt sich, was dort liegt, nur auf diesen Geräten.',
  'studio.none':
    'Dieses Gerät ist in keinem Studio. Öffne den Link, den der Server des Studios gezeigt hat, oder den dir eine Lehrkraft gegeben hat.',
  'studio.join': 'Dem Studio beitreten',
  'studio.join.desk':
    'Was dieses Gerät aufgezeichnet hat, geht ins Studio, und was das Studio hat, kommt hierher.',
  'studio.join.again':
    'Dieses Gerät ist schon in einem Studio. Verlass es erst und öffne dann den Link noch einmal.',
  'studio.join.broken': 'Der Link ist nicht vollständig. Kopiere ihn ganz, oder bitte um einen neuen.',
  'studio.name': 'Wie dieses Gerät heißt',
  'studio.name.usual': 'Mein Gerät',
  'studio.busy': 'Einen Moment …',
  'studio.line.all': 'alles gesendet',
  'studio.line.pending': {
    by: 'count',
    one: '{count} Änderung zu senden',
    other: '{count} Änderungen zu senden',
  },
  'studio.line.seen': '{what}; zuletzt erreicht {when}',
  'studio.line.never': '{what}; noch nicht erreicht',
  'studio.desks': 'Geräte',
  'studio.machine.desk': 'Pult',
  'studio.machine.student': 'von {name}',
  'studio.machine.unnamed': 'Noch nicht vorgestellt',
  'studio.machine.self': 'dieses Gerät',
  'studio.machine.seen': 'zuletzt gesehen {when}',
  'studio.remove': 'Entfernen',
  'studio.remove.sure': '{name} entfernen? Es behält, was es hat, und bekommt und sendet nichts mehr.',
  'studio.remove.yes': 'Ja, entfernen',
  'studio.keep': 'Behalten',
  'studio.invite': 'Ein Gerät einladen',
  'studio.invite.whose': 'Wessen',
  'studio.invite.desk': 'Einer Lehrkraft: darf alles',
  'studio.invite.make': 'Link machen',
  'studio.invite.open': 'Öffne das auf dem anderen Gerät. Es gilt einmal, eine Woche lang.',
  'studio.qr': 'Der Link als QR-Code',
  'studio.copy': 'Link kopieren',
  'studio.copied': 'Kopiert',
  'studio.sheet': 'Rettungsblatt',
  'studio.sheet.why':
    'Gehen alle Geräte verloren, kann niemand die Aufzeichnung mehr lesen. Mit einem gedruckten Blatt kommst du wieder hinein; verwahr es bei deinen Schlüsseln.',
  'studio.sheet.make': 'Blatt machen',
  'studio.sheet.print': 'Drucken',
  'studio.sheet.text':
    'Wer dieses Blatt hat, kann das ganze Studio lesen. Öffne auf einem neuen Gerät {address} und gib ein:',
  'studio.recover': 'Mit dem Rettungsblatt hinein',
  'studio.recover.code': 'Was auf dem Blatt steht',
  'studio.leave': 'Studio verlassen',
  'studio.leave.sure':
    'Verlassen? Die Aufzeichnung bleibt auf diesem Gerät, und eine Lehrkraft muss es neu einladen.',
  'studio.leave.yes': 'Ja, verlassen',
  'studio.now': 'Jetzt senden und holen',
  'studio.sound': 'Ton der Takes',
  'studio.sound.switch': 'Der Ton der Takes geht auch ins Studio',
  'studio.sound.off': 'Nein, er bleibt auf dem Gerät, das ihn aufgenommen hat',
  'studio.sound.on': 'Ja, verschlüsselt',
  'studio.sound.what':
    'Ein Gerät, das den Ton seiner Takes aufhebt, sendet dann den jedes neuen Takes: etwa 1 MB je Minute. Hören können ihn alle Lehrkräfte des Studios und die eigenen Geräte des Schülers, nicht der Server. Frühere Takes bleiben, wo sie sind. Das Studio fasst bis zu {limit} MB; dann macht der älteste Platz.',
  'studio.sound.use': {
    by: 'takes',
    one: 'Im Studio liegt der Ton eines Takes: {mb} von {limit} MB.',
    other: 'Im Studio liegt der Ton von {takes} Takes: {mb} von {limit} MB.',
  },
  'studio.sound.sure': {
    by: 'takes',
    one: 'Ausschalten? Es wird nichts mehr gesendet, und der Ton eines Takes ({mb} MB) wird im Studio gelöscht. Was Geräte aufgehoben haben, bleibt dort.',
    other:
      'Ausschalten? Es wird nichts mehr gesendet, und der Ton von {takes} Takes ({mb} MB) wird im Studio gelöscht. Was Geräte aufgehoben haben, bleibt dort.',
  },
  'studio.sound.yes': 'Ja, ausschalten und löschen',
  'studio.sound.keep': 'Angeschaltet lassen',
  'studio.sound.student':
    'Wo dieses Gerät den Ton der Takes aufhebt, geht er verschlüsselt auch ins Studio. Die Lehrkräfte können ihn hören.',
  'studio.sound.there': 'Der Ton dieses Takes liegt im Studio.',
  'studio.sound.hear': 'Holen und anhören',
  'studio.sound.gone': 'Der Ton dieses Takes ist nicht mehr im Studio.',
  'studio.sound.not-fetched': 'Der Ton kam nicht: {why}.',
  'conflict.studio': 'Im Studio: {what}',
  'studio.problem.offline': 'das Studio antwortet nicht; alles bleibt hier und wird später gesendet',
  'studio.problem.unknown-device': 'dieses Gerät ist nicht mehr im Studio; eine Lehrkraft kann es einladen',
  'studio.problem.student-gone': 'dieser Schüler wurde im Studio gelöscht',
  'studio.problem.bad-invite':
    'der Link wurde benutzt, zurückgezogen oder ist abgelaufen; bitte um einen neuen',
  'studio.problem.old-schema': 'andere Geräte haben eine neuere Version der App; lade sie neu',
  'studio.problem.newer-protocol':
    'App und Server des Studios haben verschiedene Versionen; lade die App neu',
  'studio.problem.full': 'das Studio ist voll; wer es betreibt, kann helfen',
  'studio.problem.too-often': 'dieses Gerät hat zu oft gefragt; gleich geht es weiter',
  'studio.problem.other': 'etwas ging schief; nichts ist verloren, es wird wieder versucht',
};
