// Packs the extension into a .vsix: offline, and the same bytes from the same files on any day.
//   node package.mjs [FILE]

import { createVSIX } from '@vscode/vsce';

// The first second a zip can name, which no zone may move into the year before.
process.env.TZ = 'UTC';
process.env.SOURCE_DATE_EPOCH = '315532800';
await createVSIX({
  packagePath: process.argv[2] ?? 'trug.vsix',
  // Everything it needs is in the bundle.
  dependencies: false,
  allowMissingRepository: true,
  // Both licences are packed under the names they have in the repository.
  skipLicense: true,
});
