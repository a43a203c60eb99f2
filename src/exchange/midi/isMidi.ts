/** Whether a file begins as every Standard MIDI File does: "MThd" (RP-001, SMF 1.0). */
export const isMidi = (bytes: Uint8Array): boolean => String.fromCharCode(...bytes.subarray(0, 4)) === 'MThd';
