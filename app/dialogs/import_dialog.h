// SPDX-License-Identifier: GPL-3.0-or-later
// Bringing a file in, on one screen: which file and layer, which column is what, which coordinate
// system; then a look at what would change, on the map and in figures; then, only then, the
// writing.
#pragma once

#include "app/commands/import_layer.h"

#include <QDialog>

#include <optional>

class QLabel;
class QLineEdit;
class QPushButton;

namespace keyround {

class CalmComboBox;
class ColumnMatchTable;
class ImportReview;
class WorkBar;

class ImportDialog final : public QDialog
{
    Q_OBJECT
public:
    explicit ImportDialog(Session &session, QWidget *parent = nullptr);

    /// Looks into a file; the same as choosing it.
    void take(const QString &path);

protected:
    void done(int result) override;

private:
    QWidget *buildFileRow();
    QWidget *buildOptionsRow();
    QWidget *buildButtons();
    void chooseFile();
    void showLayer();
    void guessKind();
    void showCrs();
    /// The plan is stale: whatever was looked at before no longer holds.
    void invalidate();
    [[nodiscard]] std::optional<ReadRequest> request();
    void look();
    void bringIn();
    void say(const QString &text, bool failed);
    [[nodiscard]] LayerKind kind() const;
    [[nodiscard]] const SourceLayer *layer() const;

    Session &m_session;
    SourceInfo m_source;
    std::optional<ImportPlan> m_plan;

    QLineEdit *m_path;
    CalmComboBox *m_kind;
    CalmComboBox *m_layer;
    ColumnMatchTable *m_columns;
    QLabel *m_crs;
    QLineEdit *m_epsg;
    CalmComboBox *m_dates;
    QLabel *m_message;
    ImportReview *m_review;
    WorkBar *m_work;
    QPushButton *m_look;
    QPushButton *m_bringIn;
};

} // namespace keyround
