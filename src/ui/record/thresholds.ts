import type { Json, Thresholds } from '../../store/index.ts';

/** Two marks from whatever was kept or typed; null unless 0 ≤ close < there ≤ 100, whole or not. */
export function checkedThresholds(value: Json): Thresholds | null {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return null;
  const { there, close } = value as { there?: unknown; close?: unknown };
  if (typeof there !== 'number' || typeof close !== 'number') return null;
  return close >= 0 && close < there && there <= 100 ? { there, close } : null;
}
