import ts from 'typescript-eslint';
import svelte from 'eslint-plugin-svelte';

export default ts.config(
  { ignores: ['dist/', 'node_modules/', 'coverage/', '.cache/', 'src/dsp/simd/kernels/'] },
  ...ts.configs.recommended,
  ...svelte.configs.recommended,
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'] } },
  },
  {
    rules: {
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      '@typescript-eslint/consistent-type-imports': 'error',
      eqeqeq: 'error',
      'no-console': 'error',
    },
  },
  // A test that hands over a deliberately wrong value needs `any`; what it promises is in its name.
  { files: ['tests/**'], rules: { '@typescript-eslint/no-explicit-any': 'off' } },
  {
    files: [
      'tests/bench/**',
      'audio-fixtures/**',
      'src/cli/**',
      'src/training/**',
      'tests/support/**',
      'studio/main.ts',
    ],
    rules: { 'no-console': 'off' },
  },
);
