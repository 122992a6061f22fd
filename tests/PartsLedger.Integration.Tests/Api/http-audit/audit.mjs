// Runs the public GraphQL-over-HTTP audits against the address given and prints one JSON object per audit and line.
import { auditServer } from 'graphql-http';

const results = await auditServer({ url: process.argv[2] });
for (const result of results) console.log(JSON.stringify({ id: result.id, name: result.name, status: result.status, reason: result.reason }));
