/** Owns the description of what is asked after classes: the log, the review, exports, the one question. */
import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { classBodySchema, classesSchema } from '../../shared/wire/http.ts';
import {
  answeredSchema, answerSchema, classDataSchema, deletedSchema, exportSchema, liveSchema, questionSchema, recordBodySchema, reviewQuerySchema, reviewSchema,
} from '../../shared/wire/review.ts';
import { body, download, gone, inside, no, outside, path, route, within, wrong } from './parts.ts';

const requestParams = { path };
const unread = { '422': no('Its log cannot be read.') };
const stopped = { '409': no('Somebody needed help in this class: it is in no export.') };
const range = { query: reviewQuerySchema.pick({ from: true, to: true }) };
const reading = { '503': no('The log is still being read for the first time.') };

export const reviewPaths: ZodOpenApiPathsObject = {
  '/api/classes': { get: within('classes', 'The log, newest first', classesSchema, { requestParams: { query: z.object({ before: z.int().optional(), limit: z.int().optional() }) }, responses: wrong }) },
  '/api/classes/{id}': {
    get: within('class', 'Everything that happened in one class', classBodySchema, { description: 'Every event with what it holds. A stop is a pause to all but the desk\'s password and phones of that room.', requestParams, responses: { ...gone, ...unread } }),
    delete: within('deleteClass', 'Delete all of a class', deletedSchema, { requestParams, responses: { ...gone, '409': no('It is still on its screen.') } }),
  },
  '/api/classes/{id}/record': { get: within('record', 'What one class came to in figures', recordBodySchema, { requestParams }) },
  '/api/classes/{id}/class.csv': { get: download('classTable', 'One class as a table (RFC 4180)', 'text/csv', { security: inside, requestParams, responses: { ...outside, ...gone, ...stopped, ...unread } }) },
  '/api/classes/{id}/class.json': { get: within('classData', 'One class as data', classDataSchema, { requestParams, responses: { ...gone, ...stopped, ...unread } }) },
  '/api/review': { get: within('review', 'Many classes together', reviewSchema, { requestParams: { query: reviewQuerySchema }, responses: wrong }) },
  '/api/live': { get: within('live', 'All rooms now', liveSchema) },
  '/api/export.csv': { get: download('exportTable', 'A range of classes as a table (RFC 4180), a row each', 'text/csv', { security: inside, requestParams: range, responses: { ...outside, ...wrong, ...reading } }) },
  '/api/export.json': { get: within('exportData', 'A range of classes as data', exportSchema, { requestParams: range, responses: { ...wrong, ...reading } }) },
  '/api/answers/{id}': {
    get: route('question', 'The one question after a class', questionSchema, { requestParams, responses: { ...gone, '409': no('The class has not ended.'), '410': no('Answers are closed.') } }),
    post: route('answer', 'Answer it, once from one address', answeredSchema, { requestParams, ...body(answerSchema), responses: { ...wrong, ...gone, '409': no('The class has not ended, or this phone has answered.'), '410': no('Answers are closed.'), '507': no('It could not be counted.') } }),
  },
};
