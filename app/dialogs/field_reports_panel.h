// SPDX-License-Identifier: GPL-3.0-or-later
// What crews reported about the inventory, for the office to decide: the list, the map with the
// place that was and the place that is proposed, and the decision with its reason. A window of its
// own beside the work; every decision can be undone.
#pragma once

#include "app/models/field_report_model.h"
#include "core/common/result.h"

#include <QWidget>

class QLabel;
class QLineEdit;
class QPushButton;

namespace keyround {

class DataTable;
class MapWidget;

class FieldReportsPanel final : public QWidget
{
    Q_OBJECT
public:
    explicit FieldReportsPanel(Session &session, QWidget *parent = nullptr);

    static FieldReportsPanel *openBeside(QWidget *owner, Session &session);

private:
    [[nodiscard]] QWidget *buildDecision();
    void refresh();
    void showPlace(const ReportedPlace &report);
    void showCandidate(const ReportedValve &report);
    void decide(bool accepts);
    [[nodiscard]] Status decideOn(const ProposalId &proposal, bool accepts);
    [[nodiscard]] Status decideOn(const CandidateId &candidate, bool accepts);
    void chooseNextOpen();

    Session &m_session;
    FieldReportModel *m_model;
    DataTable *m_table;
    MapWidget *m_map;
    QLabel *m_words;
    QLabel *m_numberCaption;
    QLineEdit *m_number;
    QLineEdit *m_why;
    QLabel *m_refusal;
    QPushButton *m_accept;
    QPushButton *m_refuse;
    std::optional<FieldReportModel::ReportId> m_shown;
};

} // namespace keyround
