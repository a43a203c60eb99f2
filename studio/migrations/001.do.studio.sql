-- Everything is keyed by studio, first in every key, and no query crosses studios.
create table studios (
  id text primary key,
  seq bigint not null default 0,          -- place of the last row that came in
  era text not null,                      -- another one once the database was set back to an older copy
  schema integer not null default 1,      -- highest version of the records' schema seen
  created_at timestamptz not null
);
create table devices (
  studio text not null references studios (id) on delete cascade,
  id text not null,
  role text not null check (role in ('teacher', 'student')),
  student text check ((role = 'student') = (student is not null)),
  token_hash text not null,
  public_key text not null,
  label text,
  certificate text,
  created_at timestamptz not null,
  last_seen timestamptz not null,
  primary key (studio, id)
);
create table invites (
  studio text not null references studios (id) on delete cascade,
  id text not null,
  role text not null check (role in ('teacher', 'student')),
  student text check ((role = 'student') = (student is not null)),
  token_hash text not null,
  parcel text,                            -- null: the first device of a studio, which makes the keys
  expires_at timestamptz not null,
  used_by text,
  primary key (studio, id)
);
create table keys (
  studio text not null references studios (id) on delete cascade,
  id text not null,
  seq bigint not null,
  scope text not null,                    -- a student, or the studio itself
  wrapped_by text,
  wrapped text,
  retired boolean not null default false,
  primary key (studio, id)
);
create index keys_of_scope on keys (studio, scope);
create table envelopes (
  studio text not null,
  key_id text not null,
  device text not null,
  sealed text not null,
  primary key (studio, device, key_id),
  foreign key (studio, key_id) references keys (studio, id) on delete cascade,
  foreign key (studio, device) references devices (studio, id) on delete cascade
);
create table items (
  studio text not null references studios (id) on delete cascade,
  seq bigint not null,
  id text not null,
  scope text not null,
  lane text not null check (lane in ('shared', 'desk')),
  key_id text not null,
  device text not null,
  role text not null,
  body bytea not null,
  at timestamptz not null,
  primary key (studio, seq),
  unique (studio, id)
);
create index items_of_scope on items (studio, scope, seq);
-- What was deleted: a random id (of a student, or the hash of a student's device's token) and nothing else.
create table gone (
  studio text not null references studios (id) on delete cascade,
  id text not null,
  seq bigint not null,
  primary key (studio, id)
);
create index gone_by_seq on gone (studio, seq);
