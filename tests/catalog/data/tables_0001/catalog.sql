-- An invented workshop's catalog as the first version of the tables (0001) wrote it.
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE batch (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	code VARCHAR(60) NOT NULL, 
	title TEXT NOT NULL, 
	bought_on DATE, 
	bought_from TEXT NOT NULL, 
	price VARCHAR(40), 
	premium VARCHAR(40), 
	carriage VARCHAR(40), 
	currency VARCHAR(3) NOT NULL, 
	note TEXT NOT NULL, 
	created_at DATETIME NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_batch PRIMARY KEY (id), 
	CONSTRAINT uq_batch_code UNIQUE (code)
);
INSERT INTO "batch" VALUES('33ebebdf73c042e4a83a98b0ed2bf10e',1,'LOT7','House clearance',NULL,'',NULL,NULL,NULL,'USD','','2026-03-14 09:04:00.000000',NULL);
CREATE TABLE catalog_info (
	id VARCHAR(32) NOT NULL, 
	name TEXT NOT NULL, 
	created_at DATETIME NOT NULL, 
	written_by VARCHAR(40) NOT NULL, 
	CONSTRAINT pk_catalog_info PRIMARY KEY (id)
);
INSERT INTO "catalog_info" VALUES('6514eea54d7c40d68cf4f6557a207740','Wendholm workshop','2026-03-14 09:00:00.000000','0.1.0');
CREATE TABLE change (
	id VARCHAR(32) NOT NULL, 
	edit_id VARCHAR(32) NOT NULL, 
	position INTEGER NOT NULL, 
	"table" VARCHAR(40) NOT NULL, 
	row_id VARCHAR(32) NOT NULL, 
	tool_id VARCHAR(32), 
	"before" JSON, 
	"after" JSON, 
	CONSTRAINT pk_change PRIMARY KEY (id), 
	CONSTRAINT fk_change_edit_id FOREIGN KEY(edit_id) REFERENCES edit (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "change" VALUES('973a97249d5a41d5bfa5b68b9cde284a','8416090c60e94b68a6bff2cf62c353a6',1,'setting','workshop',NULL,'null','{"id": "workshop", "value": {"is": "Wendholm Workshop"}}');
INSERT INTO "change" VALUES('ab70cacf9ad44afdb90029947ea08183','8416090c60e94b68a6bff2cf62c353a6',2,'setting','promise',NULL,'null','{"id": "promise", "value": {"is": "Send it back within 14 days."}}');
INSERT INTO "change" VALUES('f8974845e30c4ac9b1aeee19ac682914','f142f613f3864f65b75f412b14780f05',1,'batch','33ebebdf73c042e4a83a98b0ed2bf10e',NULL,'null','{"id": "33ebebdf73c042e4a83a98b0ed2bf10e", "code": "LOT7", "title": "House clearance", "bought_on": null, "bought_from": "", "price": null, "premium": null, "carriage": null, "currency": "USD", "note": "", "created_at": {"instant": "2026-03-14T09:04:00+00:00"}, "binned_at": null}');
INSERT INTO "change" VALUES('2992e190745545b4b81db3839e59fa37','edae6c08850d417fb94ebd3984e2bee0',1,'tool','603b1e640080470bb1e5cd581996d36e','603b1e640080470bb1e5cd581996d36e','null','{"id": "603b1e640080470bb1e5cd581996d36e", "batch_id": "33ebebdf73c042e4a83a98b0ed2bf10e", "stock_number": "LOT7-001", "position": 1, "kind": "smoothing", "maker": "Halbeck & Son", "model": "pattern K", "size": "", "identified_by": null, "note": "", "state": "as_found", "defects_looked_at": false, "work_finished": false, "asking": null, "sold_for": null, "sold_on": null, "sold_to": "", "created_at": {"instant": "2026-03-14T09:05:00+00:00"}, "binned_at": null}');
INSERT INTO "change" VALUES('6ab4081c7604489fbb8f0c1339f6d93f','edae6c08850d417fb94ebd3984e2bee0',2,'part','cd0fc525922e4cd3a4b21e57910cd100','603b1e640080470bb1e5cd581996d36e','null','{"id": "cd0fc525922e4cd3a4b21e57910cd100", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "body", "name": "Body", "finish": "japanning", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 0, "binned_at": null}');
INSERT INTO "change" VALUES('207baaf797ff46f981190f9d52d01531','edae6c08850d417fb94ebd3984e2bee0',3,'part','45ddea08ec5b48398d4cbdb0b3768ec4','603b1e640080470bb1e5cd581996d36e','null','{"id": "45ddea08ec5b48398d4cbdb0b3768ec4", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "frog", "name": "Frog", "finish": "japanning", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 1, "binned_at": null}');
INSERT INTO "change" VALUES('2638bbc787b24487954f0c07be67b55d','edae6c08850d417fb94ebd3984e2bee0',4,'part','bded2d585de0453b9994c37f0a560fc2','603b1e640080470bb1e5cd581996d36e','null','{"id": "bded2d585de0453b9994c37f0a560fc2", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "cutter", "name": "Cutter", "finish": "bare_metal", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 2, "binned_at": null}');
INSERT INTO "change" VALUES('50b32cd95be74a3b8d8739ab0b4dc29b','edae6c08850d417fb94ebd3984e2bee0',5,'part','3d5141b7ba8541cfa22c626e2ab9086c','603b1e640080470bb1e5cd581996d36e','null','{"id": "3d5141b7ba8541cfa22c626e2ab9086c", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "cap_iron", "name": "Cap iron", "finish": "bare_metal", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 3, "binned_at": null}');
INSERT INTO "change" VALUES('f61823cae1084507bf8d90ce0eec9eb9','edae6c08850d417fb94ebd3984e2bee0',6,'part','c03367ec6be64a48a2bf7b71bc6d1cc9','603b1e640080470bb1e5cd581996d36e','null','{"id": "c03367ec6be64a48a2bf7b71bc6d1cc9", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "cap_iron_screw", "name": "Cap iron screw", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 4, "binned_at": null}');
INSERT INTO "change" VALUES('c9dc605dee49418faef80875add7e469','edae6c08850d417fb94ebd3984e2bee0',7,'part','f11de5c1978d4878a54d0a99da6dc4a7','603b1e640080470bb1e5cd581996d36e','null','{"id": "f11de5c1978d4878a54d0a99da6dc4a7", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "lever_cap", "name": "Lever cap", "finish": "nickel", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 5, "binned_at": null}');
INSERT INTO "change" VALUES('7ffb8e9748214322844a6c2afbace065','edae6c08850d417fb94ebd3984e2bee0',8,'part','98e4773a41c64f0696df0be9c8d47d6c','603b1e640080470bb1e5cd581996d36e','null','{"id": "98e4773a41c64f0696df0be9c8d47d6c", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "lever_cap_screw", "name": "Lever cap screw", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 6, "binned_at": null}');
INSERT INTO "change" VALUES('106313db44124a578dfe796a184b2fd8','edae6c08850d417fb94ebd3984e2bee0',9,'part','8c522cdc77864b7b9553c9c1f8035e95','603b1e640080470bb1e5cd581996d36e','null','{"id": "8c522cdc77864b7b9553c9c1f8035e95", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "adjusting_wheel", "name": "Adjusting wheel", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 7, "binned_at": null}');
INSERT INTO "change" VALUES('663382caf5f24d20be0f62f25cf9fd41','edae6c08850d417fb94ebd3984e2bee0',10,'part','d9f69f6ab491473ea464b8cd397bf247','603b1e640080470bb1e5cd581996d36e','null','{"id": "d9f69f6ab491473ea464b8cd397bf247", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "adjusting_yoke", "name": "Adjusting yoke", "finish": "japanning", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 8, "binned_at": null}');
INSERT INTO "change" VALUES('7e412179a11b4d868a0d0f587d90664d','edae6c08850d417fb94ebd3984e2bee0',11,'part','86f1651947224092bd23da32fed85c1c','603b1e640080470bb1e5cd581996d36e','null','{"id": "86f1651947224092bd23da32fed85c1c", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "lateral_lever", "name": "Lateral lever", "finish": "bare_metal", "small": true, "optional": true, "status": "not_seen", "note": "", "position": 9, "binned_at": null}');
INSERT INTO "change" VALUES('91a438822e414461b8107670399e13a3','edae6c08850d417fb94ebd3984e2bee0',12,'part','a5832001846f4698a3eda524abd0d651','603b1e640080470bb1e5cd581996d36e','null','{"id": "a5832001846f4698a3eda524abd0d651", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "frog_screws", "name": "Frog screws and washers", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 10, "binned_at": null}');
INSERT INTO "change" VALUES('3cf9d7057f7a4511a711ff1b7a712efd','edae6c08850d417fb94ebd3984e2bee0',13,'part','3e18c07f69a44c1092b7b14b55b5855f','603b1e640080470bb1e5cd581996d36e','null','{"id": "3e18c07f69a44c1092b7b14b55b5855f", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "frog_adjusting_screw", "name": "Frog adjusting screw", "finish": "bare_metal", "small": true, "optional": true, "status": "not_seen", "note": "", "position": 11, "binned_at": null}');
INSERT INTO "change" VALUES('c340b7c384f44c478b97e910539da9c9','edae6c08850d417fb94ebd3984e2bee0',14,'part','7caaa8a8445e47939b5d2340ac3bcf93','603b1e640080470bb1e5cd581996d36e','null','{"id": "7caaa8a8445e47939b5d2340ac3bcf93", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "handle", "name": "Handle", "finish": "lacquer", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 12, "binned_at": null}');
INSERT INTO "change" VALUES('923ded033d4c4f8a840dc9b4c2383c03','edae6c08850d417fb94ebd3984e2bee0',15,'part','746192caccdd444ea8f7ffd763fb8567','603b1e640080470bb1e5cd581996d36e','null','{"id": "746192caccdd444ea8f7ffd763fb8567", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "handle_bolt", "name": "Handle bolt and nut", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 13, "binned_at": null}');
INSERT INTO "change" VALUES('a58a38a17e3e491eb7bc898201b39604','edae6c08850d417fb94ebd3984e2bee0',16,'part','6db28aa27eb2485da743d0263091507c','603b1e640080470bb1e5cd581996d36e','null','{"id": "6db28aa27eb2485da743d0263091507c", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "handle_toe_screw", "name": "Handle toe screw", "finish": "bare_metal", "small": true, "optional": true, "status": "not_seen", "note": "", "position": 14, "binned_at": null}');
INSERT INTO "change" VALUES('cbd51a896da84c9682db5b1b46ba331c','edae6c08850d417fb94ebd3984e2bee0',17,'part','733d3ff8e5934038bd7fbc8c70739bec','603b1e640080470bb1e5cd581996d36e','null','{"id": "733d3ff8e5934038bd7fbc8c70739bec", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "knob", "name": "Front knob", "finish": "lacquer", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 15, "binned_at": null}');
INSERT INTO "change" VALUES('679912186be744fa949a672f41db79d0','edae6c08850d417fb94ebd3984e2bee0',18,'part','752d39b202054f2896f3037193588b9f','603b1e640080470bb1e5cd581996d36e','null','{"id": "752d39b202054f2896f3037193588b9f", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "knob_bolt", "name": "Knob bolt and nut", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 16, "binned_at": null}');
INSERT INTO "change" VALUES('c5a2d9ba5f1e4662b262a02eca77bd50','edae6c08850d417fb94ebd3984e2bee0',19,'surface','125e6d7a2958488082956df86503e1d9','603b1e640080470bb1e5cd581996d36e','null','{"id": "125e6d7a2958488082956df86503e1d9", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "bed_cheeks", "name": "Bed and cheeks", "finish": "japanning", "parts": ["body"], "position": 0, "binned_at": null}');
INSERT INTO "change" VALUES('b68e417dec5b40f5a72bdb3cc12d3be3','edae6c08850d417fb94ebd3984e2bee0',20,'surface','bd48a432250344afad966e30eaa9bf4f','603b1e640080470bb1e5cd581996d36e','null','{"id": "bd48a432250344afad966e30eaa9bf4f", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "frog", "name": "Frog", "finish": "japanning", "parts": ["frog"], "position": 1, "binned_at": null}');
INSERT INTO "change" VALUES('dad641c040ba44d298451e7868063b61','edae6c08850d417fb94ebd3984e2bee0',21,'surface','d060950d16e2431398fe626f255bb142','603b1e640080470bb1e5cd581996d36e','null','{"id": "d060950d16e2431398fe626f255bb142", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "lever_cap", "name": "Lever cap", "finish": "nickel", "parts": ["lever_cap"], "position": 2, "binned_at": null}');
INSERT INTO "change" VALUES('bbd25a7eec6e4e51b5cfdde7b74f4da7','edae6c08850d417fb94ebd3984e2bee0',22,'surface','e0c61f9dabc54c85966c2d1bcfa017ae','603b1e640080470bb1e5cd581996d36e','null','{"id": "e0c61f9dabc54c85966c2d1bcfa017ae", "tool_id": "603b1e640080470bb1e5cd581996d36e", "code": "handle_knob", "name": "Handle and knob", "finish": "lacquer", "parts": ["handle", "knob"], "position": 3, "binned_at": null}');
INSERT INTO "change" VALUES('e96edc3fc57e4c36bc5a39bbaf045f50','a97208d8ef714b02bd8e41fd48ff3bfc',1,'tool','3f96095f6dcc487e918fdffde14ac741','3f96095f6dcc487e918fdffde14ac741','null','{"id": "3f96095f6dcc487e918fdffde14ac741", "batch_id": "33ebebdf73c042e4a83a98b0ed2bf10e", "stock_number": "LOT7-002", "position": 2, "kind": "jack", "maker": "", "model": "", "size": "", "identified_by": null, "note": "", "state": "as_found", "defects_looked_at": false, "work_finished": false, "asking": null, "sold_for": null, "sold_on": null, "sold_to": "", "created_at": {"instant": "2026-03-14T09:06:00+00:00"}, "binned_at": null}');
INSERT INTO "change" VALUES('627b298d4e4a4a1daf67874998ae6979','a97208d8ef714b02bd8e41fd48ff3bfc',2,'part','2eceb1e641ef41f5bd0bb72b1a9e8812','3f96095f6dcc487e918fdffde14ac741','null','{"id": "2eceb1e641ef41f5bd0bb72b1a9e8812", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "body", "name": "Body", "finish": "japanning", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 0, "binned_at": null}');
INSERT INTO "change" VALUES('e9b8f18224324473ba79115f11bc3608','a97208d8ef714b02bd8e41fd48ff3bfc',3,'part','9d0d86d45dc04ee980cee438343efdc2','3f96095f6dcc487e918fdffde14ac741','null','{"id": "9d0d86d45dc04ee980cee438343efdc2", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "frog", "name": "Frog", "finish": "japanning", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 1, "binned_at": null}');
INSERT INTO "change" VALUES('e3d40ed19a734fa290d09236f4ba1d67','a97208d8ef714b02bd8e41fd48ff3bfc',4,'part','4f5632ad949b4512806cb788a7a58ef2','3f96095f6dcc487e918fdffde14ac741','null','{"id": "4f5632ad949b4512806cb788a7a58ef2", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "cutter", "name": "Cutter", "finish": "bare_metal", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 2, "binned_at": null}');
INSERT INTO "change" VALUES('00aa242bc34c4ce79a033072efa15dd5','a97208d8ef714b02bd8e41fd48ff3bfc',5,'part','078e0fc166c5484695b19e550357ed86','3f96095f6dcc487e918fdffde14ac741','null','{"id": "078e0fc166c5484695b19e550357ed86", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "cap_iron", "name": "Cap iron", "finish": "bare_metal", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 3, "binned_at": null}');
INSERT INTO "change" VALUES('81cb12f9fd5d49e4b707ddf8bd546be7','a97208d8ef714b02bd8e41fd48ff3bfc',6,'part','0d890230bf8f410381db4161ec62b067','3f96095f6dcc487e918fdffde14ac741','null','{"id": "0d890230bf8f410381db4161ec62b067", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "cap_iron_screw", "name": "Cap iron screw", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 4, "binned_at": null}');
INSERT INTO "change" VALUES('b3cc7e7b02d34c54ab5625eae0a971dc','a97208d8ef714b02bd8e41fd48ff3bfc',7,'part','743e9737b441435a86479d3d712b3778','3f96095f6dcc487e918fdffde14ac741','null','{"id": "743e9737b441435a86479d3d712b3778", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "lever_cap", "name": "Lever cap", "finish": "nickel", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 5, "binned_at": null}');
INSERT INTO "change" VALUES('2f13efca4a8c4c189e82999300e2e0d2','a97208d8ef714b02bd8e41fd48ff3bfc',8,'part','7e5597fa51c04563b0a38a131bea5b97','3f96095f6dcc487e918fdffde14ac741','null','{"id": "7e5597fa51c04563b0a38a131bea5b97", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "lever_cap_screw", "name": "Lever cap screw", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 6, "binned_at": null}');
INSERT INTO "change" VALUES('f6831459ea9846d89c5d0d48505c0ce8','a97208d8ef714b02bd8e41fd48ff3bfc',9,'part','2c01649eb93b4d66b9d97732716b87e3','3f96095f6dcc487e918fdffde14ac741','null','{"id": "2c01649eb93b4d66b9d97732716b87e3", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "adjusting_wheel", "name": "Adjusting wheel", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 7, "binned_at": null}');
INSERT INTO "change" VALUES('6933a2f76c5e4b699d07aa2ea20d2192','a97208d8ef714b02bd8e41fd48ff3bfc',10,'part','6694779104714295adaf297f16c1c351','3f96095f6dcc487e918fdffde14ac741','null','{"id": "6694779104714295adaf297f16c1c351", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "adjusting_yoke", "name": "Adjusting yoke", "finish": "japanning", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 8, "binned_at": null}');
INSERT INTO "change" VALUES('9ccd93e06c854115840e68c62ac77ffa','a97208d8ef714b02bd8e41fd48ff3bfc',11,'part','8ab4f770122d4179850f040f4e237908','3f96095f6dcc487e918fdffde14ac741','null','{"id": "8ab4f770122d4179850f040f4e237908", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "lateral_lever", "name": "Lateral lever", "finish": "bare_metal", "small": true, "optional": true, "status": "not_seen", "note": "", "position": 9, "binned_at": null}');
INSERT INTO "change" VALUES('de99de1b816143e89c01beaf6ea43ee3','a97208d8ef714b02bd8e41fd48ff3bfc',12,'part','091dd401a64c453e8c33a059c558a3a1','3f96095f6dcc487e918fdffde14ac741','null','{"id": "091dd401a64c453e8c33a059c558a3a1", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "frog_screws", "name": "Frog screws and washers", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 10, "binned_at": null}');
INSERT INTO "change" VALUES('9229a43799d140b4b3b5fbaf05c56fe7','a97208d8ef714b02bd8e41fd48ff3bfc',13,'part','5a0c0a5c880c4e1a842b202280136c25','3f96095f6dcc487e918fdffde14ac741','null','{"id": "5a0c0a5c880c4e1a842b202280136c25", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "frog_adjusting_screw", "name": "Frog adjusting screw", "finish": "bare_metal", "small": true, "optional": true, "status": "not_seen", "note": "", "position": 11, "binned_at": null}');
INSERT INTO "change" VALUES('f298c667a74c4c36a5f293eb9cc484df','a97208d8ef714b02bd8e41fd48ff3bfc',14,'part','c5bdfbbe84f44744a750293d7ecad6ac','3f96095f6dcc487e918fdffde14ac741','null','{"id": "c5bdfbbe84f44744a750293d7ecad6ac", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "handle", "name": "Handle", "finish": "lacquer", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 12, "binned_at": null}');
INSERT INTO "change" VALUES('b6817bd047fb411e8c448792d0dd0145','a97208d8ef714b02bd8e41fd48ff3bfc',15,'part','baf347e7ea714f0c9efd6dd2de7faeab','3f96095f6dcc487e918fdffde14ac741','null','{"id": "baf347e7ea714f0c9efd6dd2de7faeab", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "handle_bolt", "name": "Handle bolt and nut", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 13, "binned_at": null}');
INSERT INTO "change" VALUES('93d3b751b9ab447292bf08c82fea808d','a97208d8ef714b02bd8e41fd48ff3bfc',16,'part','2ffc2e5e9f4546d4be5b48c532d5981c','3f96095f6dcc487e918fdffde14ac741','null','{"id": "2ffc2e5e9f4546d4be5b48c532d5981c", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "handle_toe_screw", "name": "Handle toe screw", "finish": "bare_metal", "small": true, "optional": true, "status": "not_seen", "note": "", "position": 14, "binned_at": null}');
INSERT INTO "change" VALUES('da8c1c7b0f5244cfb5dcab6381a9a4a6','a97208d8ef714b02bd8e41fd48ff3bfc',17,'part','28d21d5ebe804403bc70d91151703929','3f96095f6dcc487e918fdffde14ac741','null','{"id": "28d21d5ebe804403bc70d91151703929", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "knob", "name": "Front knob", "finish": "lacquer", "small": false, "optional": false, "status": "not_seen", "note": "", "position": 15, "binned_at": null}');
INSERT INTO "change" VALUES('99bdff714144475c9832ef18cfa9b942','a97208d8ef714b02bd8e41fd48ff3bfc',18,'part','fe188219e7ff4926b5d293a31ff56028','3f96095f6dcc487e918fdffde14ac741','null','{"id": "fe188219e7ff4926b5d293a31ff56028", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "knob_bolt", "name": "Knob bolt and nut", "finish": "bare_metal", "small": true, "optional": false, "status": "not_seen", "note": "", "position": 16, "binned_at": null}');
INSERT INTO "change" VALUES('30a3e39ec5da4481890a88ff057e5998','a97208d8ef714b02bd8e41fd48ff3bfc',19,'surface','ae0be917ebaa47c5aab9298389314c42','3f96095f6dcc487e918fdffde14ac741','null','{"id": "ae0be917ebaa47c5aab9298389314c42", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "bed_cheeks", "name": "Bed and cheeks", "finish": "japanning", "parts": ["body"], "position": 0, "binned_at": null}');
INSERT INTO "change" VALUES('e738315261c34f29b710ae3a0a111147','a97208d8ef714b02bd8e41fd48ff3bfc',20,'surface','7838cbb021fb476fa57fd6a83fcb2793','3f96095f6dcc487e918fdffde14ac741','null','{"id": "7838cbb021fb476fa57fd6a83fcb2793", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "frog", "name": "Frog", "finish": "japanning", "parts": ["frog"], "position": 1, "binned_at": null}');
INSERT INTO "change" VALUES('b89050dd14334a8d93f592591fc745dd','a97208d8ef714b02bd8e41fd48ff3bfc',21,'surface','ad47d73deb17420db39662356366f528','3f96095f6dcc487e918fdffde14ac741','null','{"id": "ad47d73deb17420db39662356366f528", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "lever_cap", "name": "Lever cap", "finish": "nickel", "parts": ["lever_cap"], "position": 2, "binned_at": null}');
INSERT INTO "change" VALUES('c17c58bf569d4f41a25c06f58a737050','a97208d8ef714b02bd8e41fd48ff3bfc',22,'surface','1c6bb37535854ca6b4e26d914ae8114a','3f96095f6dcc487e918fdffde14ac741','null','{"id": "1c6bb37535854ca6b4e26d914ae8114a", "tool_id": "3f96095f6dcc487e918fdffde14ac741", "code": "handle_knob", "name": "Handle and knob", "finish": "lacquer", "parts": ["handle", "knob"], "position": 3, "binned_at": null}');
INSERT INTO "change" VALUES('3a2ff5cefe3845f9bffc3eca20b998bf','ebff7ddad17b4a03a1de7f994b6c40f8',1,'tool','3f96095f6dcc487e918fdffde14ac741','3f96095f6dcc487e918fdffde14ac741','{"state": "as_found"}','{"state": "kept"}');
INSERT INTO "change" VALUES('ad64fdfae3d04ee1b94ede31f3be0a0e','178c2204ccb94d6699b1c9aa16e75073',1,'defect','98694be2f87d4611a7192c6f1f7a5254','603b1e640080470bb1e5cd581996d36e','null','{"id": "98694be2f87d4611a7192c6f1f7a5254", "tool_id": "603b1e640080470bb1e5cd581996d36e", "part_id": null, "number": 1, "kind": "chip", "severity": "", "place": "mouth", "size": "1.7 mm", "size_basis": "by_eye", "note": "", "told": false, "why_not_told": "dressed away", "binned_at": null}');
INSERT INTO "change" VALUES('d725aec8574e4e3fbb4ced319103929b','5fd7d9a249cc4f11a2fa5309455f97ef',1,'sign','bb4a2d318a2a4886bb9d32382411103c','603b1e640080470bb1e5cd581996d36e','null','{"id": "bb4a2d318a2a4886bb9d32382411103c", "tool_id": "603b1e640080470bb1e5cd581996d36e", "part_id": null, "number": 1, "kind": "years", "seen": "Foundry mark", "mark": {}, "years": "1909 to 1918", "edtf": "", "not_before": 1909, "not_after": 1918, "sure": {"exact": "0.8"}, "looseness": 3, "basis": "read_off", "source": "", "source_status": "", "counted": true, "note": "", "binned_at": null}');
INSERT INTO "change" VALUES('bdbb8152a454465d83f4f534644e4eef','f1ddccd02d0e4f54ab04cef1da53f088',1,'measurement','99bd2c552c864bce92a7471bddd64997','603b1e640080470bb1e5cd581996d36e','null','{"id": "99bd2c552c864bce92a7471bddd64997", "tool_id": "603b1e640080470bb1e5cd581996d36e", "part_id": null, "what": "sole_length", "value": {"exact": "241.3"}, "plus_minus": null, "as_typed": "9 1/2 in", "basis": "by_eye", "binned_at": null}');
INSERT INTO "change" VALUES('137c226ddafa4bf2a86a45da6d259705','9ab6166e18284f6ab7178b3de9166218',1,'work','4839a9969b1846df8095ff8172f6e090','603b1e640080470bb1e5cd581996d36e','null','{"id": "4839a9969b1846df8095ff8172f6e090", "tool_id": "603b1e640080470bb1e5cd581996d36e", "part_id": null, "kind": "wire_wheel", "what": "Rust off the sole", "materials": "", "done_on": null, "minutes": null, "cost": null, "told": true, "binned_at": null}');
INSERT INTO "change" VALUES('315f8dd87a9c460b90e93dcb50e55934','f7f7bdb4727943f986df4cfc915392aa',1,'photograph','7d397ce28d41420ea876de400f6a38c0','603b1e640080470bb1e5cd581996d36e','null','{"id": "7d397ce28d41420ea876de400f6a38c0", "sha256": "e22318d078bdda2b820c09c48d5215ad2a4a8f5803f553dfb19cb790ee6b5e89", "batch_id": "33ebebdf73c042e4a83a98b0ed2bf10e", "tool_id": "603b1e640080470bb1e5cd581996d36e", "stage": "as_found", "view": "", "caption": "", "position": 0, "original_name": "1.jpg", "taken_at": null, "added_at": {"instant": "2026-03-14T09:12:00+00:00"}, "filed_by": "hand", "filed_why": "taken in for this tool", "suggested": "", "scale": null, "binned_at": null}');
INSERT INTO "change" VALUES('6003ae5974eb49a69fce729c17f5e9d3','5543d0e698f342a9a2d002f8127a7bad',1,'pin','391ad7a1bffd410f81b14cdafed84038','603b1e640080470bb1e5cd581996d36e','null','{"id": "391ad7a1bffd410f81b14cdafed84038", "photograph_id": "7d397ce28d41420ea876de400f6a38c0", "defect_id": null, "sign_id": "bb4a2d318a2a4886bb9d32382411103c", "x": 0.5, "y": 0.5, "balloon_x": 0.6, "balloon_y": 0.6}');
INSERT INTO "change" VALUES('2f2b1999e2c846ee88cbe0e4c914c5bf','ae33a09f3c0c438e8e500eb8782eaa8e',1,'pin','d4278ed7c88e499699638cac57ec78fd','603b1e640080470bb1e5cd581996d36e','null','{"id": "d4278ed7c88e499699638cac57ec78fd", "photograph_id": "7d397ce28d41420ea876de400f6a38c0", "defect_id": "98694be2f87d4611a7192c6f1f7a5254", "sign_id": null, "x": 0.2, "y": 0.2, "balloon_x": 0.3, "balloon_y": 0.3}');
INSERT INTO "change" VALUES('dad2c17061864501a6ae394f68e626aa','174ba8fa90384a958df48993d501c18e',1,'own_table','c838d1d26c0b4f0eb8d0e89d9e52af8d',NULL,'null','{"id": "c838d1d26c0b4f0eb8d0e89d9e52af8d", "purpose": "dating_clues", "name": "Halbeck", "source": "own notes", "content": {"text": "id,clue,wording,family,bounds,market,not_before,not_after,never_before,sure,looseness,source,status,use\nmine_1,Halbeck eagle,,wording,part,,1905,1912,no,0.8,3,own notes,found,\n"}, "binned_at": null}');
INSERT INTO "change" VALUES('290b5881dd064267a11f59eb4b894a45','f6c414300ca841aa916ddcfe473e99bc',1,'tool','603b1e640080470bb1e5cd581996d36e','603b1e640080470bb1e5cd581996d36e','{"defects_looked_at": false}','{"defects_looked_at": true}');
INSERT INTO "change" VALUES('d27b28ca598645bfa02ccbcee2044c03','d05a140420ac46f68c3808b9ce5264d1',1,'sign','bb4a2d318a2a4886bb9d32382411103c','603b1e640080470bb1e5cd581996d36e','{"binned_at": null}','{"binned_at": {"instant": "2026-03-14T09:17:00+00:00"}}');
INSERT INTO "change" VALUES('f5386bb222324017b6e8acc0b219043f','eeade0d278c34e06bb200ae27d6434c7',1,'sign','bb4a2d318a2a4886bb9d32382411103c','603b1e640080470bb1e5cd581996d36e','{"binned_at": {"instant": "2026-03-14T09:17:00+00:00"}}','{"binned_at": null}');
INSERT INTO "change" VALUES('460d07270dff4201aa0a5ef439910e50','7303f9a06e724f6eb88cb3a836c9c97a',1,'tool','603b1e640080470bb1e5cd581996d36e','603b1e640080470bb1e5cd581996d36e','{"state": "as_found"}','{"state": "kept"}');
INSERT INTO "change" VALUES('043ebe81c4fa45568e16f9a5e84c5691','8072a68121b842e290de0147df4709f4',1,'tool','603b1e640080470bb1e5cd581996d36e','603b1e640080470bb1e5cd581996d36e','{"state": "kept"}','{"state": "as_found"}');
INSERT INTO "change" VALUES('c0912c9470e247a8be70f76d499927c8','6400bbe009964f15a292b282d1169030',1,'defect','98694be2f87d4611a7192c6f1f7a5254','603b1e640080470bb1e5cd581996d36e','{"told": false, "why_not_told": "dressed away"}','{"told": true, "why_not_told": ""}');
INSERT INTO "change" VALUES('c35d1c47fafd4565ac5588bf1d1f2eb2','0c72b95386964c3692415cab9a881fe0',1,'sign','0f53efdf35fc4b708189492a8aa414bc','603b1e640080470bb1e5cd581996d36e','null','{"id": "0f53efdf35fc4b708189492a8aa414bc", "tool_id": "603b1e640080470bb1e5cd581996d36e", "part_id": null, "number": 2, "kind": "years", "seen": "Stock code", "mark": {}, "years": "1934 to 1941", "edtf": "", "not_before": 1934, "not_after": 1941, "sure": {"exact": "0.8"}, "looseness": 3, "basis": "read_off", "source": "", "source_status": "", "counted": true, "note": "", "binned_at": null}');
INSERT INTO "change" VALUES('153c730df38540ae86d9381288d2b8fd','1626ac13b2eb413ebcd16e6bba2b5b58',1,'sign','0f53efdf35fc4b708189492a8aa414bc','603b1e640080470bb1e5cd581996d36e','{"id": "0f53efdf35fc4b708189492a8aa414bc", "tool_id": "603b1e640080470bb1e5cd581996d36e", "part_id": null, "number": 2, "kind": "years", "seen": "Stock code", "mark": {}, "years": "1934 to 1941", "edtf": "", "not_before": 1934, "not_after": 1941, "sure": {"exact": "0.8"}, "looseness": 3, "basis": "read_off", "source": "", "source_status": "", "counted": true, "note": "", "binned_at": null}','null');
CREATE TABLE comparable (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	what TEXT NOT NULL, 
	price VARCHAR(40) NOT NULL, 
	currency VARCHAR(3) NOT NULL, 
	sold_on DATE, 
	"where" TEXT NOT NULL, 
	note TEXT NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_comparable PRIMARY KEY (id), 
	CONSTRAINT fk_comparable_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
CREATE TABLE defect (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	part_id VARCHAR(32), 
	number INTEGER NOT NULL, 
	kind VARCHAR(60) NOT NULL, 
	severity VARCHAR(40) NOT NULL, 
	place TEXT NOT NULL, 
	size TEXT NOT NULL, 
	size_basis VARCHAR(40) NOT NULL, 
	note TEXT NOT NULL, 
	told BOOLEAN NOT NULL, 
	why_not_told TEXT NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_defect PRIMARY KEY (id), 
	CONSTRAINT fk_defect_part_id FOREIGN KEY(part_id) REFERENCES part (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_defect_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "defect" VALUES('98694be2f87d4611a7192c6f1f7a5254',2,'603b1e640080470bb1e5cd581996d36e',NULL,1,'chip','','mouth','1.7 mm','by_eye','',1,'',NULL);
CREATE TABLE edit (
	id VARCHAR(32) NOT NULL, 
	number INTEGER NOT NULL, 
	at DATETIME NOT NULL, 
	who TEXT NOT NULL, 
	words TEXT NOT NULL, 
	act VARCHAR(4) NOT NULL, 
	"of" VARCHAR(32), 
	taken_back_by INTEGER, 
	run VARCHAR(32), 
	CONSTRAINT pk_edit PRIMARY KEY (id), 
	CONSTRAINT fk_edit_of FOREIGN KEY("of") REFERENCES edit (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT uq_edit_number UNIQUE (number)
);
INSERT INTO "edit" VALUES('8416090c60e94b68a6bff2cf62c353a6',1,'2026-03-14 09:03:00.000000','R. Fenn','Workshop’s name, promise changed','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('f142f613f3864f65b75f412b14780f05',2,'2026-03-14 09:04:00.000000','R. Fenn','Batch LOT7 written down','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('edae6c08850d417fb94ebd3984e2bee0',3,'2026-03-14 09:05:00.000000','R. Fenn','LOT7-001 added','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('a97208d8ef714b02bd8e41fd48ff3bfc',4,'2026-03-14 09:06:00.000000','R. Fenn','LOT7-002 added','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('ebff7ddad17b4a03a1de7f994b6c40f8',5,'2026-03-14 09:07:00.000000','R. Fenn','LOT7-002: kept','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('178c2204ccb94d6699b1c9aa16e75073',6,'2026-03-14 09:08:00.000000','R. Fenn','LOT7-001 defect 1 written down','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('5fd7d9a249cc4f11a2fa5309455f97ef',7,'2026-03-14 09:09:00.000000','R. Fenn','LOT7-001 sign 1 entered','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('f1ddccd02d0e4f54ab04cef1da53f088',8,'2026-03-14 09:10:00.000000','R. Fenn','LOT7-001 sole length 9 1/2 in','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('9ab6166e18284f6ab7178b3de9166218',9,'2026-03-14 09:11:00.000000','R. Fenn','LOT7-001 work written down: Rust off the sole','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('f7f7bdb4727943f986df4cfc915392aa',10,'2026-03-14 09:12:00.000000','R. Fenn','1 photograph taken in','do',NULL,NULL,'d47a49a58cb54c6e8ed256fdd904e68b');
INSERT INTO "edit" VALUES('5543d0e698f342a9a2d002f8127a7bad',11,'2026-03-14 09:13:00.000000','R. Fenn','Pin set','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('ae33a09f3c0c438e8e500eb8782eaa8e',12,'2026-03-14 09:14:00.000000','R. Fenn','Pin set','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('174ba8fa90384a958df48993d501c18e',13,'2026-03-14 09:15:00.000000','R. Fenn','Table written down: Halbeck','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('f6c414300ca841aa916ddcfe473e99bc',14,'2026-03-14 09:16:00.000000','R. Fenn','LOT7-001 changed: looked over for defects','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('d05a140420ac46f68c3808b9ce5264d1',15,'2026-03-14 09:18:00.000000','R. Fenn','LOT7-001 sign put in the bin','do',NULL,16,NULL);
INSERT INTO "edit" VALUES('eeade0d278c34e06bb200ae27d6434c7',16,'2026-03-14 09:19:00.000000','R. Fenn','Took back: LOT7-001 sign put in the bin','undo','d05a140420ac46f68c3808b9ce5264d1',NULL,NULL);
INSERT INTO "edit" VALUES('7303f9a06e724f6eb88cb3a836c9c97a',17,'2026-03-14 09:20:00.000000','R. Fenn','LOT7-001: kept','do',NULL,18,NULL);
INSERT INTO "edit" VALUES('8072a68121b842e290de0147df4709f4',18,'2026-03-14 09:21:00.000000','R. Fenn','Took back: LOT7-001: kept','undo','7303f9a06e724f6eb88cb3a836c9c97a',NULL,NULL);
INSERT INTO "edit" VALUES('6400bbe009964f15a292b282d1169030',19,'2026-03-14 09:22:00.000000','R. Fenn','LOT7-001 defect changed','do',NULL,NULL,NULL);
INSERT INTO "edit" VALUES('0c72b95386964c3692415cab9a881fe0',20,'2026-03-14 09:23:00.000000','R. Fenn','LOT7-001 sign 2 entered','do',NULL,21,NULL);
INSERT INTO "edit" VALUES('1626ac13b2eb413ebcd16e6bba2b5b58',21,'2026-03-14 09:24:00.000000','R. Fenn','Took back: LOT7-001 sign 2 entered','undo','0c72b95386964c3692415cab9a881fe0',NULL,NULL);
CREATE TABLE issued_sheet (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	number INTEGER NOT NULL, 
	issued_at DATETIME NOT NULL, 
	issued_by TEXT NOT NULL, 
	file_name TEXT NOT NULL, 
	fingerprint VARCHAR(64) NOT NULL, 
	content JSON NOT NULL, 
	CONSTRAINT pk_issued_sheet PRIMARY KEY (id), 
	CONSTRAINT fk_issued_sheet_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT uq_issued_sheet_number UNIQUE (number)
);
CREATE TABLE measurement (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	part_id VARCHAR(32), 
	what VARCHAR(60) NOT NULL, 
	value VARCHAR(40) NOT NULL, 
	plus_minus VARCHAR(40), 
	as_typed TEXT NOT NULL, 
	basis VARCHAR(40) NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_measurement PRIMARY KEY (id), 
	CONSTRAINT fk_measurement_part_id FOREIGN KEY(part_id) REFERENCES part (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_measurement_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "measurement" VALUES('99bd2c552c864bce92a7471bddd64997',1,'603b1e640080470bb1e5cd581996d36e',NULL,'sole_length','241.3',NULL,'9 1/2 in','by_eye',NULL);
CREATE TABLE outline (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	photograph_id VARCHAR(32) NOT NULL, 
	surface_id VARCHAR(32) NOT NULL, 
	finish VARCHAR(40) NOT NULL, 
	polygons JSON NOT NULL, 
	strokes JSON NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_outline PRIMARY KEY (id), 
	CONSTRAINT fk_outline_photograph_id FOREIGN KEY(photograph_id) REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_outline_surface_id FOREIGN KEY(surface_id) REFERENCES surface (id) DEFERRABLE INITIALLY DEFERRED
);
CREATE TABLE own_kind (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	code VARCHAR(60) NOT NULL, 
	definition JSON NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_own_kind PRIMARY KEY (id), 
	CONSTRAINT uq_own_kind_code UNIQUE (code)
);
CREATE TABLE own_table (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	purpose VARCHAR(40) NOT NULL, 
	name TEXT NOT NULL, 
	source TEXT NOT NULL, 
	content JSON NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_own_table PRIMARY KEY (id)
);
INSERT INTO "own_table" VALUES('c838d1d26c0b4f0eb8d0e89d9e52af8d',1,'dating_clues','Halbeck','own notes','{"text": "id,clue,wording,family,bounds,market,not_before,not_after,never_before,sure,looseness,source,status,use\nmine_1,Halbeck eagle,,wording,part,,1905,1912,no,0.8,3,own notes,found,\n"}',NULL);
CREATE TABLE pair (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	before_id VARCHAR(32) NOT NULL, 
	after_id VARCHAR(32) NOT NULL, 
	alignment JSON, 
	on_sheet BOOLEAN NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_pair PRIMARY KEY (id), 
	CONSTRAINT fk_pair_after_id FOREIGN KEY(after_id) REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_pair_before_id FOREIGN KEY(before_id) REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_pair_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
CREATE TABLE part (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	code VARCHAR(60) NOT NULL, 
	name TEXT NOT NULL, 
	finish VARCHAR(40) NOT NULL, 
	small BOOLEAN NOT NULL, 
	optional BOOLEAN NOT NULL, 
	status VARCHAR(40) NOT NULL, 
	note TEXT NOT NULL, 
	position INTEGER NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_part PRIMARY KEY (id), 
	CONSTRAINT fk_part_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "part" VALUES('cd0fc525922e4cd3a4b21e57910cd100',1,'603b1e640080470bb1e5cd581996d36e','body','Body','japanning',0,0,'not_seen','',0,NULL);
INSERT INTO "part" VALUES('45ddea08ec5b48398d4cbdb0b3768ec4',1,'603b1e640080470bb1e5cd581996d36e','frog','Frog','japanning',0,0,'not_seen','',1,NULL);
INSERT INTO "part" VALUES('bded2d585de0453b9994c37f0a560fc2',1,'603b1e640080470bb1e5cd581996d36e','cutter','Cutter','bare_metal',0,0,'not_seen','',2,NULL);
INSERT INTO "part" VALUES('3d5141b7ba8541cfa22c626e2ab9086c',1,'603b1e640080470bb1e5cd581996d36e','cap_iron','Cap iron','bare_metal',0,0,'not_seen','',3,NULL);
INSERT INTO "part" VALUES('c03367ec6be64a48a2bf7b71bc6d1cc9',1,'603b1e640080470bb1e5cd581996d36e','cap_iron_screw','Cap iron screw','bare_metal',1,0,'not_seen','',4,NULL);
INSERT INTO "part" VALUES('f11de5c1978d4878a54d0a99da6dc4a7',1,'603b1e640080470bb1e5cd581996d36e','lever_cap','Lever cap','nickel',0,0,'not_seen','',5,NULL);
INSERT INTO "part" VALUES('98e4773a41c64f0696df0be9c8d47d6c',1,'603b1e640080470bb1e5cd581996d36e','lever_cap_screw','Lever cap screw','bare_metal',1,0,'not_seen','',6,NULL);
INSERT INTO "part" VALUES('8c522cdc77864b7b9553c9c1f8035e95',1,'603b1e640080470bb1e5cd581996d36e','adjusting_wheel','Adjusting wheel','bare_metal',1,0,'not_seen','',7,NULL);
INSERT INTO "part" VALUES('d9f69f6ab491473ea464b8cd397bf247',1,'603b1e640080470bb1e5cd581996d36e','adjusting_yoke','Adjusting yoke','japanning',1,0,'not_seen','',8,NULL);
INSERT INTO "part" VALUES('86f1651947224092bd23da32fed85c1c',1,'603b1e640080470bb1e5cd581996d36e','lateral_lever','Lateral lever','bare_metal',1,1,'not_seen','',9,NULL);
INSERT INTO "part" VALUES('a5832001846f4698a3eda524abd0d651',1,'603b1e640080470bb1e5cd581996d36e','frog_screws','Frog screws and washers','bare_metal',1,0,'not_seen','',10,NULL);
INSERT INTO "part" VALUES('3e18c07f69a44c1092b7b14b55b5855f',1,'603b1e640080470bb1e5cd581996d36e','frog_adjusting_screw','Frog adjusting screw','bare_metal',1,1,'not_seen','',11,NULL);
INSERT INTO "part" VALUES('7caaa8a8445e47939b5d2340ac3bcf93',1,'603b1e640080470bb1e5cd581996d36e','handle','Handle','lacquer',0,0,'not_seen','',12,NULL);
INSERT INTO "part" VALUES('746192caccdd444ea8f7ffd763fb8567',1,'603b1e640080470bb1e5cd581996d36e','handle_bolt','Handle bolt and nut','bare_metal',1,0,'not_seen','',13,NULL);
INSERT INTO "part" VALUES('6db28aa27eb2485da743d0263091507c',1,'603b1e640080470bb1e5cd581996d36e','handle_toe_screw','Handle toe screw','bare_metal',1,1,'not_seen','',14,NULL);
INSERT INTO "part" VALUES('733d3ff8e5934038bd7fbc8c70739bec',1,'603b1e640080470bb1e5cd581996d36e','knob','Front knob','lacquer',0,0,'not_seen','',15,NULL);
INSERT INTO "part" VALUES('752d39b202054f2896f3037193588b9f',1,'603b1e640080470bb1e5cd581996d36e','knob_bolt','Knob bolt and nut','bare_metal',1,0,'not_seen','',16,NULL);
INSERT INTO "part" VALUES('2eceb1e641ef41f5bd0bb72b1a9e8812',1,'3f96095f6dcc487e918fdffde14ac741','body','Body','japanning',0,0,'not_seen','',0,NULL);
INSERT INTO "part" VALUES('9d0d86d45dc04ee980cee438343efdc2',1,'3f96095f6dcc487e918fdffde14ac741','frog','Frog','japanning',0,0,'not_seen','',1,NULL);
INSERT INTO "part" VALUES('4f5632ad949b4512806cb788a7a58ef2',1,'3f96095f6dcc487e918fdffde14ac741','cutter','Cutter','bare_metal',0,0,'not_seen','',2,NULL);
INSERT INTO "part" VALUES('078e0fc166c5484695b19e550357ed86',1,'3f96095f6dcc487e918fdffde14ac741','cap_iron','Cap iron','bare_metal',0,0,'not_seen','',3,NULL);
INSERT INTO "part" VALUES('0d890230bf8f410381db4161ec62b067',1,'3f96095f6dcc487e918fdffde14ac741','cap_iron_screw','Cap iron screw','bare_metal',1,0,'not_seen','',4,NULL);
INSERT INTO "part" VALUES('743e9737b441435a86479d3d712b3778',1,'3f96095f6dcc487e918fdffde14ac741','lever_cap','Lever cap','nickel',0,0,'not_seen','',5,NULL);
INSERT INTO "part" VALUES('7e5597fa51c04563b0a38a131bea5b97',1,'3f96095f6dcc487e918fdffde14ac741','lever_cap_screw','Lever cap screw','bare_metal',1,0,'not_seen','',6,NULL);
INSERT INTO "part" VALUES('2c01649eb93b4d66b9d97732716b87e3',1,'3f96095f6dcc487e918fdffde14ac741','adjusting_wheel','Adjusting wheel','bare_metal',1,0,'not_seen','',7,NULL);
INSERT INTO "part" VALUES('6694779104714295adaf297f16c1c351',1,'3f96095f6dcc487e918fdffde14ac741','adjusting_yoke','Adjusting yoke','japanning',1,0,'not_seen','',8,NULL);
INSERT INTO "part" VALUES('8ab4f770122d4179850f040f4e237908',1,'3f96095f6dcc487e918fdffde14ac741','lateral_lever','Lateral lever','bare_metal',1,1,'not_seen','',9,NULL);
INSERT INTO "part" VALUES('091dd401a64c453e8c33a059c558a3a1',1,'3f96095f6dcc487e918fdffde14ac741','frog_screws','Frog screws and washers','bare_metal',1,0,'not_seen','',10,NULL);
INSERT INTO "part" VALUES('5a0c0a5c880c4e1a842b202280136c25',1,'3f96095f6dcc487e918fdffde14ac741','frog_adjusting_screw','Frog adjusting screw','bare_metal',1,1,'not_seen','',11,NULL);
INSERT INTO "part" VALUES('c5bdfbbe84f44744a750293d7ecad6ac',1,'3f96095f6dcc487e918fdffde14ac741','handle','Handle','lacquer',0,0,'not_seen','',12,NULL);
INSERT INTO "part" VALUES('baf347e7ea714f0c9efd6dd2de7faeab',1,'3f96095f6dcc487e918fdffde14ac741','handle_bolt','Handle bolt and nut','bare_metal',1,0,'not_seen','',13,NULL);
INSERT INTO "part" VALUES('2ffc2e5e9f4546d4be5b48c532d5981c',1,'3f96095f6dcc487e918fdffde14ac741','handle_toe_screw','Handle toe screw','bare_metal',1,1,'not_seen','',14,NULL);
INSERT INTO "part" VALUES('28d21d5ebe804403bc70d91151703929',1,'3f96095f6dcc487e918fdffde14ac741','knob','Front knob','lacquer',0,0,'not_seen','',15,NULL);
INSERT INTO "part" VALUES('fe188219e7ff4926b5d293a31ff56028',1,'3f96095f6dcc487e918fdffde14ac741','knob_bolt','Knob bolt and nut','bare_metal',1,0,'not_seen','',16,NULL);
CREATE TABLE photograph (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	sha256 VARCHAR(64) NOT NULL, 
	batch_id VARCHAR(32), 
	tool_id VARCHAR(32), 
	stage VARCHAR(40) NOT NULL, 
	"view" VARCHAR(40) NOT NULL, 
	caption TEXT NOT NULL, 
	position INTEGER NOT NULL, 
	original_name TEXT NOT NULL, 
	taken_at DATETIME, 
	added_at DATETIME NOT NULL, 
	filed_by VARCHAR(40) NOT NULL, 
	filed_why TEXT NOT NULL, 
	suggested VARCHAR(60) NOT NULL, 
	scale JSON, 
	binned_at DATETIME, 
	CONSTRAINT pk_photograph PRIMARY KEY (id), 
	CONSTRAINT fk_photograph_batch_id FOREIGN KEY(batch_id) REFERENCES batch (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_photograph_sha256 FOREIGN KEY(sha256) REFERENCES stored_file (sha256) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_photograph_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "photograph" VALUES('7d397ce28d41420ea876de400f6a38c0',1,'e22318d078bdda2b820c09c48d5215ad2a4a8f5803f553dfb19cb790ee6b5e89','33ebebdf73c042e4a83a98b0ed2bf10e','603b1e640080470bb1e5cd581996d36e','as_found','','',0,'1.jpg',NULL,'2026-03-14 09:12:00.000000','hand','taken in for this tool','','null',NULL);
CREATE TABLE pin (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	photograph_id VARCHAR(32) NOT NULL, 
	defect_id VARCHAR(32), 
	sign_id VARCHAR(32), 
	x DOUBLE NOT NULL, 
	y DOUBLE NOT NULL, 
	balloon_x DOUBLE NOT NULL, 
	balloon_y DOUBLE NOT NULL, 
	CONSTRAINT pk_pin PRIMARY KEY (id), 
	CONSTRAINT fk_pin_defect_id FOREIGN KEY(defect_id) REFERENCES defect (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_pin_photograph_id FOREIGN KEY(photograph_id) REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_pin_sign_id FOREIGN KEY(sign_id) REFERENCES sign (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "pin" VALUES('391ad7a1bffd410f81b14cdafed84038',1,'7d397ce28d41420ea876de400f6a38c0',NULL,'bb4a2d318a2a4886bb9d32382411103c',0.5,0.5,0.6,0.6);
INSERT INTO "pin" VALUES('d4278ed7c88e499699638cac57ec78fd',1,'7d397ce28d41420ea876de400f6a38c0','98694be2f87d4611a7192c6f1f7a5254',NULL,0.2,0.2,0.3,0.3);
CREATE TABLE reading (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	surface_id VARCHAR(32) NOT NULL, 
	finish VARCHAR(40) NOT NULL, 
	stage VARCHAR(40) NOT NULL, 
	value VARCHAR(40) NOT NULL, 
	low VARCHAR(40) NOT NULL, 
	high VARCHAR(40) NOT NULL, 
	new_finish VARCHAR(40), 
	new_finish_low VARCHAR(40), 
	new_finish_high VARCHAR(40), 
	basis VARCHAR(40) NOT NULL, 
	method TEXT NOT NULL, 
	note TEXT NOT NULL, 
	read_by TEXT NOT NULL, 
	read_at DATETIME NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_reading PRIMARY KEY (id), 
	CONSTRAINT fk_reading_surface_id FOREIGN KEY(surface_id) REFERENCES surface (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_reading_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
CREATE TABLE reading_area (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	reading_id VARCHAR(32) NOT NULL, 
	outline_id VARCHAR(32) NOT NULL, 
	photograph_id VARCHAR(32) NOT NULL, 
	kept_px INTEGER NOT NULL, 
	lost_px INTEGER NOT NULL, 
	cannot_tell_px INTEGER NOT NULL, 
	area_mm2 VARCHAR(40), 
	share JSON NOT NULL, 
	CONSTRAINT pk_reading_area PRIMARY KEY (id), 
	CONSTRAINT fk_reading_area_outline_id FOREIGN KEY(outline_id) REFERENCES outline (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_reading_area_photograph_id FOREIGN KEY(photograph_id) REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_reading_area_reading_id FOREIGN KEY(reading_id) REFERENCES reading (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT uq_reading_area_reading_id_outline_id UNIQUE (reading_id, outline_id)
);
CREATE TABLE setting (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	value JSON NOT NULL, 
	CONSTRAINT pk_setting PRIMARY KEY (id)
);
INSERT INTO "setting" VALUES('workshop',1,'{"is": "Wendholm Workshop"}');
INSERT INTO "setting" VALUES('promise',1,'{"is": "Send it back within 14 days."}');
CREATE TABLE sign (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	part_id VARCHAR(32), 
	number INTEGER NOT NULL, 
	kind VARCHAR(40) NOT NULL, 
	seen TEXT NOT NULL, 
	mark JSON NOT NULL, 
	years TEXT NOT NULL, 
	edtf VARCHAR(80) NOT NULL, 
	not_before INTEGER, 
	not_after INTEGER, 
	sure VARCHAR(40) NOT NULL, 
	looseness INTEGER NOT NULL, 
	basis VARCHAR(40) NOT NULL, 
	source TEXT NOT NULL, 
	source_status VARCHAR(40) NOT NULL, 
	counted BOOLEAN NOT NULL, 
	note TEXT NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_sign PRIMARY KEY (id), 
	CONSTRAINT fk_sign_part_id FOREIGN KEY(part_id) REFERENCES part (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_sign_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "sign" VALUES('bb4a2d318a2a4886bb9d32382411103c',3,'603b1e640080470bb1e5cd581996d36e',NULL,1,'years','Foundry mark','{}','1909 to 1918','',1909,1918,'0.8',3,'read_off','','',1,'',NULL);
CREATE TABLE stored_file (
	sha256 VARCHAR(64) NOT NULL, 
	suffix VARCHAR(16) NOT NULL, 
	size INTEGER NOT NULL, 
	format VARCHAR(20) NOT NULL, 
	width INTEGER NOT NULL, 
	height INTEGER NOT NULL, 
	taken_at DATETIME, 
	camera TEXT NOT NULL, 
	stored_at DATETIME NOT NULL, 
	looks_like VARCHAR(80), 
	sharpness DOUBLE, 
	CONSTRAINT pk_stored_file PRIMARY KEY (sha256)
);
INSERT INTO "stored_file" VALUES('e22318d078bdda2b820c09c48d5215ad2a4a8f5803f553dfb19cb790ee6b5e89','.jpg',1933,'JPEG',64,48,NULL,'','2026-03-14 09:12:00.000000','cb999c5ec87ad908cbc488fd98a51e89c84c7addd95708d80b14ea9db36db3b8565c255ab0fd1615',8.07940979003906249982e+01);
CREATE TABLE surface (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	code VARCHAR(60) NOT NULL, 
	name TEXT NOT NULL, 
	finish VARCHAR(40) NOT NULL, 
	parts JSON NOT NULL, 
	position INTEGER NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_surface PRIMARY KEY (id), 
	CONSTRAINT fk_surface_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "surface" VALUES('125e6d7a2958488082956df86503e1d9',1,'603b1e640080470bb1e5cd581996d36e','bed_cheeks','Bed and cheeks','japanning','["body"]',0,NULL);
INSERT INTO "surface" VALUES('bd48a432250344afad966e30eaa9bf4f',1,'603b1e640080470bb1e5cd581996d36e','frog','Frog','japanning','["frog"]',1,NULL);
INSERT INTO "surface" VALUES('d060950d16e2431398fe626f255bb142',1,'603b1e640080470bb1e5cd581996d36e','lever_cap','Lever cap','nickel','["lever_cap"]',2,NULL);
INSERT INTO "surface" VALUES('e0c61f9dabc54c85966c2d1bcfa017ae',1,'603b1e640080470bb1e5cd581996d36e','handle_knob','Handle and knob','lacquer','["handle", "knob"]',3,NULL);
INSERT INTO "surface" VALUES('ae0be917ebaa47c5aab9298389314c42',1,'3f96095f6dcc487e918fdffde14ac741','bed_cheeks','Bed and cheeks','japanning','["body"]',0,NULL);
INSERT INTO "surface" VALUES('7838cbb021fb476fa57fd6a83fcb2793',1,'3f96095f6dcc487e918fdffde14ac741','frog','Frog','japanning','["frog"]',1,NULL);
INSERT INTO "surface" VALUES('ad47d73deb17420db39662356366f528',1,'3f96095f6dcc487e918fdffde14ac741','lever_cap','Lever cap','nickel','["lever_cap"]',2,NULL);
INSERT INTO "surface" VALUES('1c6bb37535854ca6b4e26d914ae8114a',1,'3f96095f6dcc487e918fdffde14ac741','handle_knob','Handle and knob','lacquer','["handle", "knob"]',3,NULL);
CREATE TABLE tool (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	batch_id VARCHAR(32) NOT NULL, 
	stock_number VARCHAR(60) NOT NULL, 
	position INTEGER NOT NULL, 
	kind VARCHAR(60) NOT NULL, 
	maker TEXT NOT NULL, 
	model TEXT NOT NULL, 
	size TEXT NOT NULL, 
	identified_by VARCHAR(40), 
	note TEXT NOT NULL, 
	state VARCHAR(40) NOT NULL, 
	defects_looked_at BOOLEAN NOT NULL, 
	work_finished BOOLEAN NOT NULL, 
	asking VARCHAR(40), 
	sold_for VARCHAR(40), 
	sold_on DATE, 
	sold_to TEXT NOT NULL, 
	created_at DATETIME NOT NULL, 
	binned_at DATETIME, 
	search_text TEXT NOT NULL, 
	summary JSON NOT NULL, 
	lacks_finished BOOLEAN NOT NULL, 
	lacks_date BOOLEAN NOT NULL, 
	lacks_measure BOOLEAN NOT NULL, 
	disagrees BOOLEAN NOT NULL, 
	CONSTRAINT pk_tool PRIMARY KEY (id), 
	CONSTRAINT fk_tool_batch_id FOREIGN KEY(batch_id) REFERENCES batch (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT uq_tool_stock_number UNIQUE (stock_number)
);
INSERT INTO "tool" VALUES('603b1e640080470bb1e5cd581996d36e',16,'33ebebdf73c042e4a83a98b0ed2bf10e','LOT7-001',1,'smoothing','Halbeck & Son','pattern K','',NULL,'','as_found',1,0,NULL,NULL,NULL,'','2026-03-14 09:05:00.000000',NULL,'lot7-001 smoothing plane halbeck & son pattern k                     chip mouth  1.7 mm foundry mark 1909 to 1918   rust off the sole   1.jpg','{"title": "Smoothing plane", "subtitle": "Halbeck & Son pattern K", "latest_photograph": "7d397ce28d41420ea876de400f6a38c0", "main_share": null, "main_was": null, "made": "1907 to 1919", "made_basis": "one sign, 75 % sure", "known": ["complete", "open", "open", "complete", "in_part", "in_part", "open"], "next": {"words": "Say which parts came with it", "detail": "nothing said yet", "section": 2, "is_act": true}}',1,0,1,0);
INSERT INTO "tool" VALUES('3f96095f6dcc487e918fdffde14ac741',4,'33ebebdf73c042e4a83a98b0ed2bf10e','LOT7-002',2,'jack','','','',NULL,'','kept',0,0,NULL,NULL,NULL,'','2026-03-14 09:06:00.000000',NULL,'lot7-002 jack plane                      ','{"title": "Jack plane", "subtitle": "no maker\u2019s mark seen", "latest_photograph": null, "main_share": null, "main_was": null, "made": "not dated", "made_basis": "", "known": ["open", "open", "open", "open", "open", "complete", "complete"], "next": {"words": "Photograph it as found", "detail": "no photograph yet", "section": 1, "is_act": true}}',1,1,1,0);
CREATE TABLE work (
	id VARCHAR(32) NOT NULL, 
	version INTEGER NOT NULL, 
	tool_id VARCHAR(32) NOT NULL, 
	part_id VARCHAR(32), 
	kind VARCHAR(60) NOT NULL, 
	what TEXT NOT NULL, 
	materials TEXT NOT NULL, 
	done_on DATE, 
	minutes INTEGER, 
	cost VARCHAR(40), 
	told BOOLEAN NOT NULL, 
	binned_at DATETIME, 
	CONSTRAINT pk_work PRIMARY KEY (id), 
	CONSTRAINT fk_work_part_id FOREIGN KEY(part_id) REFERENCES part (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_work_tool_id FOREIGN KEY(tool_id) REFERENCES tool (id) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO "work" VALUES('4839a9969b1846df8095ff8172f6e090',1,'603b1e640080470bb1e5cd581996d36e',NULL,'wire_wheel','Rust off the sole','',NULL,NULL,NULL,1,NULL);
CREATE INDEX ix_edit_act ON edit (act, taken_back_by);
CREATE INDEX ix_edit_run ON edit (run);
CREATE INDEX ix_change_edit_id ON change (edit_id);
CREATE INDEX ix_change_row_id ON change (row_id);
CREATE INDEX ix_change_tool_id ON change (tool_id);
CREATE INDEX ix_tool_order ON tool (batch_id, position, stock_number);
CREATE INDEX ix_comparable_tool_id ON comparable (tool_id);
CREATE INDEX ix_issued_sheet_tool_id ON issued_sheet (tool_id);
CREATE INDEX ix_part_tool_id ON part (tool_id);
CREATE INDEX ix_photograph_batch_id ON photograph (batch_id);
CREATE INDEX ix_photograph_sha256 ON photograph (sha256);
CREATE INDEX ix_photograph_tool_id ON photograph (tool_id);
CREATE INDEX ix_surface_tool_id ON surface (tool_id);
CREATE INDEX ix_defect_tool_id ON defect (tool_id);
CREATE INDEX ix_measurement_tool_id ON measurement (tool_id);
CREATE INDEX ix_outline_photograph_id ON outline (photograph_id);
CREATE INDEX ix_outline_surface_id ON outline (surface_id);
CREATE INDEX ix_pair_tool_id ON pair (tool_id);
CREATE INDEX ix_reading_surface_id ON reading (surface_id);
CREATE INDEX ix_reading_tool_id ON reading (tool_id);
CREATE INDEX ix_sign_tool_id ON sign (tool_id);
CREATE INDEX ix_work_tool_id ON work (tool_id);
CREATE INDEX ix_pin_defect_id ON pin (defect_id);
CREATE INDEX ix_pin_photograph_id ON pin (photograph_id);
CREATE INDEX ix_pin_sign_id ON pin (sign_id);
CREATE INDEX ix_reading_area_reading_id ON reading_area (reading_id);
COMMIT;
