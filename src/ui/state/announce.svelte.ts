/** What a screen reader says next, politely: steps, counts of seconds, results. */
let said = $state('');

export const announcement = {
  get now(): string {
    return said;
  },
};

export function announce(text: string): void {
  said = text;
}
